// Captain: the team's folder of tables, in from the browser and out again.

import { a, b, div, fieldset, h2, input, label, legend, p, span, table, tap, tbody, td, th, thead, tr } from "../core/tags.js";

/** @typedef {import("./captain.js").Captain} Captain */
/** @typedef {import("../core/wire.d.ts").TeamAnswer} Answer */
/** @typedef {import("../core/wire.d.ts").RowError} Fault */

/** Of more files than this the board looks at none. */
const FILES_MOST = 500;
/** A folder in a folder in a folder, and no deeper. */
const DEEP_MOST = 3;

/** @typedef {{path: string, file: File}} Piece */

/** What a folder may leave open, by the setting that says it. @type {Record<string, string>} */
const questions = {
  name: "what the event is called",
  date_order: "which comes first in dates such as 11/12/2026",
  date: "the day of times that have none",
};

export class TeamFolder {
  /** What was chosen, kept to be read again once a question is answered. @type {Piece[]} */
  pieces = [];
  /** @type {Answer | null} */
  answer = null;
  trouble = "";
  reading = false;
  over = false;
  /** @type {Record<string, string>} */
  said = { name: "", date_order: "", date: today() };

  /** @param {Captain} captain */
  constructor(captain) {
    this.captain = captain;
  }

  /** @param {Piece[]} pieces */
  async load(pieces) {
    this.pieces = pieces;
    this.answer = null;
    this.trouble = pieces.length ? "" : "There is no file in that. Choose the folder, its zip or its CSV files.";
    this.reading = pieces.length > 0;
    this.captain.redraw();
    if (pieces.length === 0) return;
    await this.send().catch(() => {
      this.trouble = "The files could not be read or sent. Choose them again; a file that changed meanwhile has to be.";
    });
    this.reading = false;
    this.captain.redraw();
    document.querySelector(".team-folder")?.scrollIntoView({ block: "start" });
  }

  async send() {
    const body = new FormData();
    for (const [name, text] of Object.entries({ ...this.said, utc_offset_min: String(-new Date().getTimezoneOffset()) })) {
      if (text) body.append(name, text);
    }
    for (const { path, file } of this.pieces) body.append(path, /\.(csv|zip)$/i.test(path) ? await whole(file) : new Blob([]), path);
    const answer = await fetch("/api/team", { method: "POST", body });
    const said = await answer.json();
    if (said.faults) this.answer = said;
    else this.trouble = said.refusal?.sentence ?? "The board did not answer. Try again when it is back.";
  }

  /** @param {DataTransfer | null} dropped */
  async drop(dropped) {
    const entries = [...(dropped?.items ?? [])].map((item) => item.webkitGetAsEntry?.()).filter((e) => e !== null && e !== undefined);
    const files = [...(dropped?.files ?? [])];
    this.over = false;
    if (entries.length === 0) return this.load(files.map((file) => ({ path: file.name, file })));
    /** @type {Piece[]} */
    const pieces = [];
    const deep = await Promise.all(entries.map((e) => gather(e, "", 0, pieces))).then(() => "", () => "no");
    return this.load(deep ? [] : pieces);
  }

  /** @param {any} field */
  chosen(field) {
    const files = /** @type {File[]} */ ([...field.files]);
    const pieces = files.map((file) => ({ path: file.webkitRelativePath || file.name, file }));
    field.value = ""; // the same folder may be chosen again
    return this.load(pieces);
  }

  view() {
    const { board } = this.captain;
    const held = [["robots", "robot"], ["packs", "pack"], ["jobs", "job"], ["fights", "fight"]]
      .map(([words, kind]) => ({ words, count: board.all(/** @type {any} */ (kind)).length })).filter((x) => x.count);
    return div(
      {
        class: `list team-folder${this.over ? " over" : ""}`,
        onDragOver: (e) => { e.preventDefault(); if (!this.over) { this.over = true; this.captain.redraw(); } },
        onDragLeave: (e) => {
          if (/** @type {Element} */ (e.currentTarget).contains(/** @type {globalThis.Node | null} */ (e.relatedTarget))) return;
          this.over = false;
          this.captain.redraw();
        },
        onDrop: (e) => { e.preventDefault(); this.drop(e.dataTransfer); },
      },
      div({ class: "column-head" }, h2(null, "team folder")),
      this.result(),
      p(null, "Event, people, robots, packs, jobs and fights, as tables that any spreadsheet writes."),
      held.length
        ? p({ class: "fact" }, `This board holds ${held.map((x) => `${x.count} ${x.words}`).join(", ")}. ` +
          "A folder is loaded only into a board that holds none of these: start the program with another data folder.")
        : this.chooser(),
      h2(null, "take it with you"),
      div({ class: "card-acts" },
        board.get("event/event")?.name
          ? a({ key: "team", class: "press", href: "/api/team", download: "" }, "download our team")
          : null,
        a({ key: "blank", class: "press", href: "/api/team/blank", download: "" }, "download an empty folder to fill in")),
      p({ class: "hint" }, "In a zip, with a README.txt that says what each column means, with an example."));
  }

  chooser() {
    const pick = (/** @type {string} */ id, /** @type {string} */ words, /** @type {object} */ props) =>
      label({ key: id, class: "field", for: id }, span({ class: "label" }, words),
        input({ id, type: "file", multiple: true, disabled: this.reading, ...props, onChange: (e) => this.chosen(e.currentTarget) }));
    return div({ key: "chooser", class: "card drop-here" },
      p(null, b(null, "Drop the folder, its zip or its CSV files here,"), " or choose them."),
      pick("team-folder", "a folder", { webkitdirectory: true }),
      pick("team-files", "files: CSV or a zip", { accept: ".csv,.zip" }),
      p({ class: "hint" }, "All of it is read first. If one cell is wrong, nothing is loaded, and you see which. Robots come in with " +
        "their power unknown, packs unread. Whoever has joined stays, and is who crew.csv means by that name. The event\u2019s " +
        "settings become the folder\u2019s."));
  }

  result() {
    if (this.reading) return p({ key: "reading", role: "status" }, b(null, "Reading it …"));
    if (this.trouble) return p({ key: "trouble", class: "form-wrong", role: "status" }, this.trouble);
    if (!this.answer) return null;
    const { loaded, faults, skipped, ...counts } = this.answer;
    return div({ key: "result", class: "list" },
      loaded
        ? p({ class: "loaded", role: "status" }, b(null, "Loaded: "),
          `${Object.entries(counts).filter(([, n]) => n).map(([name, n]) => `${n} ${called[name] ?? name}`).join(", ") || "the event"}.`)
        : p({ class: "form-wrong", role: "status" },
          `Nothing was loaded: ${faults.length === 1 ? "one thing has" : `${faults.length} things have`} to be put right first.`),
      this.askView([...new Set(faults.map((f) => f.ask ?? "").filter(Boolean))]),
      faults.length ? faultTable(faults) : null,
      skipped.length ? p({ class: "fact" }, `Passed over: ${skipped.join(", ")}`) : null);
  }

  /** What the folder leaves open. @param {string[]} asked */
  askView(asked) {
    if (asked.length === 0) return null;
    const say = (/** @type {string} */ name, /** @type {string} */ text) => { this.said[name] = text; this.captain.redraw(); };
    const field = (/** @type {string} */ name) => {
      const props = { id: `say-${name}`, value: this.said[name], onInput: (/** @type {any} */ e) => say(name, e.currentTarget.value) };
      return label({ key: name, class: "field", for: props.id }, span({ class: "label" }, questions[name]),
        name === "date" ? input({ ...props, type: "date" }) : input({ ...props, type: "text", autoComplete: "off" }));
    };
    const choice = (/** @type {string} */ order, /** @type {string} */ words) => {
      const checked = this.said.date_order === order;
      return label({ key: order, class: checked ? "tick on" : "tick" },
        input({ type: "radio", name: "date_order", checked, onChange: () => say("date_order", order) }),
        span(null, words));
    };
    return div({ key: "asked", class: "card" },
      asked.map((name) => (name === "date_order"
        ? fieldset({ key: name, class: "field" }, legend(null, questions[name]),
          div({ class: "ticks" }, choice("day-month", "the day: 11 December"), choice("month-day", "the month: November 12")))
        : field(name))),
      tap({
        key: "again", words: "read it again with this", off: asked.some((name) => !this.said[name]?.trim()),
        act: () => this.load(this.pieces),
      }));
  }
}

/** What was loaded, where the word is another than its name. @type {Record<string, string>} */
const called = { jobs: "kinds of job" };

const heads = ["where", "there is", "there should be"];

/** @param {Fault[]} faults */
const faultTable = (faults) => table({ key: "faults", class: "faults", "aria-label": "what is wrong" },
  thead(null, tr(null, heads.map((words) => th({ key: words, scope: "col" }, words)))),
  tbody(null, faults.map((f, i) => tr({ key: i },
    td(null, whereOf(f).map((words) => span({ key: words }, words))),
    td({ class: "there" }, f.value || (f.column ? "nothing" : "")),
    td(null, f.want)))));

/** @param {Fault} f */
function whereOf(f) {
  const lines = [f.line, ...(f.more ?? [])].filter(Boolean);
  const column = f.column || (f.number ? `column ${f.number}` : "");
  return [f.file, lines.length ? `line ${lines.join(", ")}` : "", column].filter(Boolean);
}

/** @returns {string} */
function today() {
  const now = new Date();
  return `${now.getFullYear()}-${String(now.getMonth() + 1).padStart(2, "0")}-${String(now.getDate()).padStart(2, "0")}`;
}

/** A file with what is in it now, so that one that cannot be read is said here. @param {File} file */
const whole = async (file) => new Blob([await file.arrayBuffer()]);

/**
 * Gathers the files of what was dropped.
 * @param {FileSystemEntry} entry @param {string} above @param {number} deep @param {Piece[]} into
 * @returns {Promise<void>}
 */
async function gather(entry, above, deep, into) {
  const path = above + entry.name;
  if (entry.isFile) {
    const file = await new Promise((good, bad) => { /** @type {FileSystemFileEntry} */ (entry).file(good, bad); });
    if (into.length <= FILES_MOST) into.push({ path, file });
  } else if (deep < DEEP_MOST) {
    const reader = /** @type {FileSystemDirectoryEntry} */ (entry).createReader();
    for (;;) {
      /** @type {FileSystemEntry[]} */
      const some = await new Promise((good, bad) => { reader.readEntries(good, bad); });
      if (some.length === 0) return;
      for (const one of some) await gather(one, `${path}/`, deep + 1, into);
    }
  }
}
