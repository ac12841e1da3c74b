// Captain: the words and the order of the sheets' lines. A line that carries a rule
// is reworded or moved within its part, never taken out.

import { b, div, fieldset, h2, label, legend, input, li, ol, p, span, tap, textarea } from "../core/tags.js";
import { Form, fieldView, typed, wired } from "./forms.js";
import { systems } from "./fields.js";
import { listWords, nameOf } from "../core/words.js";
import { sawOf } from "../core/screen.js";

/** @typedef {import("./captain.js").Captain} Captain */
/** @typedef {import("../core/wire.d.ts").Listed} Listed */
/** @typedef {import("../core/wire.d.ts").ListedLine} ListedLine */
/** @typedef {import("../core/wire.d.ts").WordedLine} WordedLine */
/** @typedef {import("../core/wire.d.ts").Wording} Wording */
/** @typedef {import("../core/wire.d.ts").SheetList} SheetList */

/** The words of a line that may be changed. */
const words = /** @type {const} */ ([
  ["ask", "question"], ["touch", "what to touch"], ["say", "the big button"], ["not", "the other button"],
]);

/** @type {Record<string, string>} */
const partWords = {
  down: "power down", isolate: "isolate", verify: "verify", "first-in": "first in", inspect: "inspect", "close-up": "close up",
  ready: "ready", sign: "sign", "load-in": "load in", overnight: "overnight", "pack-up": "pack up",
};

/** @type {import("./fields.js").Field[]} */
const ownFields = [
  { name: "ask", label: "question", type: "text", hint: "at most twelve words, answered with a hand on the thing" },
  { name: "touch", label: "what to touch", type: "text" },
  {
    name: "kind", label: "answered by", type: "choice",
    options: [["do", "doing it"], ["number", "a figure"], ["choice", "a choice"], ["told", "naming who was told"]],
  },
  { name: "say", label: "the big button", type: "text" },
  { name: "not", label: "the other button", type: "text" },
  { name: "notFitted", label: "\u201cnot fitted\u201d is an answer", type: "flag" },
  { name: "covers", label: "is asked again after work on", type: "many", options: systems },
  { name: "unit", label: "unit of the figure", type: "text" },
  { name: "least", label: "at least", type: "number" },
  { name: "most", label: "at most", type: "number" },
  { name: "choices", label: "choices, two to six", type: "lines" },
];

/** The lists in the board's own words, asked of the server once. */
export class Sheets {
  /** @type {Listed[]} */
  lists = [];
  trouble = "";
  asked = false;

  /** @param {Captain} captain */
  constructor(captain) {
    this.captain = captain;
  }

  async load() {
    this.asked = true;
    const answer = await fetch("/api/lists").catch(() => null);
    const said = answer?.ok ? await answer.json().catch(() => null) : null;
    this.lists = said?.lists ?? [];
    this.trouble = said ? "" : "The board did not answer. Look again when it is back.";
    this.captain.redraw();
  }

  view() {
    if (!this.asked) queueMicrotask(() => this.load());
    return div({ class: "list" },
      div({ class: "column-head" }, h2(null, "sheets"), this.trouble ? tap({ words: "look again", act: () => this.load() }) : null),
      this.trouble ? p({ class: "form-wrong", role: "status" }, this.trouble) : null,
      p({ class: "fact" }, "New words and a new order count from the next sheet on. Sheets that are open keep the old ones."),
      this.lists.map((listed) => this.listView(listed)));
  }

  /** @param {Listed} listed */
  listView(listed) {
    const { captain } = this;
    const wording = captain.board.get(`wording/${listed.list}`);
    const own = wording?.lines?.length ? wording.lines : null;
    const out = own ? left(listed, wording) : [];
    const lines = own ? [...own, ...later(listed, wording)] : listed.lines;
    return div({ class: "card", key: listed.list },
      p(null, b(null, listWords[listed.list])),
      p({ class: "fact" },
        own
          ? `worded by ${nameOf(captain.board, wording?.by)} ${captain.ctx.clock.hhmm(wording?.at)}, version ${wording?.version}`
          : "in the board\u2019s own words"),
      out.length ? p(null, b(null, `leaves out: ${out.map((l) => l.id).join(", ")}`)) : null,
      ol({ class: "steps" },
        lines.map((l) => listed.lines.find((x) => x.id === l.id)?.ask || l.ask
          ? li({ key: l.id }, l.ask || listed.lines.find((x) => x.id === l.id)?.ask)
          : null)),
      div({ class: "card-acts" },
        tap({ words: `word ${listWords[listed.list].toLowerCase()}`, act: () => captain.show(new WordingForm(captain, listed)) }),
        own ? tap({
          words: "the board\u2019s own again", label: `the board\u2019s own again: ${listWords[listed.list].toLowerCase()}`,
          act: () => captain.acts.ask({
            do: "wording.set", with: { list: listed.list, lines: [] }, seen: sawOf(captain.ctx, `wording/${listed.list}`),
            says: `${listWords[listed.list].toLowerCase()} is in the board\u2019s own words`,
          }),
        }) : null));
  }
}

/** The lines of a list that a wording does not name. @param {Listed} listed @param {Wording | undefined} wording */
const unnamed = (listed, wording) => listed.lines.filter((l) => !wording?.lines?.some((w) => w.id === l.id));

/** Those that it leaves out. @param {Listed} listed @param {Wording | undefined} wording */
const left = (listed, wording) => unnamed(listed, wording).filter((l) => !l.kept && (!wording?.out || wording.out.includes(l.id)));

/** Those that came after it was worded, and stand on its sheets. @param {Listed} listed @param {Wording | undefined} wording */
const later = (listed, wording) => unnamed(listed, wording).filter((l) => !left(listed, wording).includes(l));

/**
 * One line that is worded; without listed it is the team's own.
 * @typedef {{id: string, part: string, listed?: ListedLine, draft: Record<string, any>}} Draft
 */

/** The form in which a list is worded. */
class WordingForm extends Form {
  /** @param {Captain} captain @param {Listed} listed */
  constructor(captain, listed) {
    const wording = captain.board.get(`wording/${listed.list}`);
    super({
      title: `The words of ${listWords[listed.list].toLowerCase()}`, do: "wording.set", fields: [], from: {}, also: { list: listed.list },
      seen: wording ? sawOf(captain.ctx, `wording/${listed.list}`) : undefined,
      says: `${listWords[listed.list].toLowerCase()} has new words`, save: "use these words",
      warns: "Anything left empty keeps the board\u2019s own words, shown in grey. {name} stands for the pack, " +
        "the isolator or the robot. " +
        "A line marked \u201crule\u201d can be worded and moved within its part, not taken out.",
    }, captain.acts, () => captain.show(null));
    this.listed = listed;
    const known = wording?.lines?.filter((line) => line.id.startsWith("own-") || listed.lines.some((l) => l.id === line.id)) ?? [];
    const lines = [...known, ...(known.length ? later(listed, wording) : listed.lines).map((l) => ({ id: l.id }))];
    /** @type {Draft[]} */
    this.lines = lines.map((line) => this.drafted(line));
    this.sort();
  }

  /** @param {WordedLine} line @returns {Draft} */
  drafted(line) {
    const listed = this.listed.lines.find((l) => l.id === line.id);
    if (listed) {
      return { id: line.id, part: listed.part, listed, draft: Object.fromEntries(words.map(([name]) => [name, line[name] ?? ""])) };
    }
    return { id: line.id, part: line.part || this.listed.lines[0].part, draft: typed(ownFields, line) };
  }

  /** The board keeps the parts in their order. */
  sort() {
    const parts = [...new Set(this.listed.lines.map((l) => l.part))];
    this.lines.sort((x, y) => parts.indexOf(x.part) - parts.indexOf(y.part));
  }

  sent() {
    const lines = this.lines.map((l) => {
      if (!l.listed) return { id: l.id, part: l.part, ...wired(ownFields, l.draft, this.wrong) };
      return {
        id: l.id,
        ...Object.fromEntries(Object.entries(l.draft).filter(([, text]) => text.trim()).map(([name, text]) => [name, text.trim()])),
      };
    });
    this.top = Object.values(this.wrong)[0] ?? "";
    return { lines };
  }

  fieldsView() {
    const shown = this.lines.filter((l) => !l.listed || l.listed.ask);
    const out = this.listed.lines.filter((l) => !this.lines.some((x) => x.id === l.id));
    return [
      shown.map((l, i) => this.lineView(l, i, shown)),
      out.map((l) => div({ class: "card", key: `out ${l.id}` }, p({ class: "fact" }, `left out, and said so on the board: ${l.ask}`),
        div({ class: "card-acts" },
          tap({ words: `put ${l.id} back`, act: () => this.change(() => this.lines.push(this.drafted({ id: l.id }))) })))),
      tap({
        key: "add", class: "add", words: "add a line of our own",
        act: () =>
          this.change(() => this.lines.push(this.drafted({ id: this.freshID(), kind: "do", not: "not yet", part: this.ownPart() }))),
      }),
    ];
  }

  /** A line of one's own stands in the last part that takes any. */
  ownPart() {
    return this.listed.lines.map((l) => l.part).filter((part) => part !== "sign").pop();
  }

  freshID() {
    let n = 1;
    while (this.lines.some((l) => l.id === `own-${n}`)) n++;
    return `own-${n}`;
  }

  /** @param {() => unknown} fn */
  change(fn) {
    fn();
    this.sort();
    this.acts.redraw();
  }

  /** @param {Draft} l @param {number} i @param {Draft[]} shown */
  lineView(l, i, shown) {
    const above = shown[i - 1]?.part === l.part ? shown[i - 1] : null;
    const kept = l.listed?.kept;
    return fieldset({ key: l.id, class: "field worded" },
      legend(null,
        `${i + 1} ${l.listed ? l.id : l.draft.ask || "our own line"} \u00b7 ${partWords[l.part] ?? l.part}`,
        kept ? span({ class: "kept" }, "rule") : null),
      div({ class: "row-fields" },
        l.listed
          ? words.map(([name, title]) => this.wordView(l, name, title))
          : [this.partView(l), ownFields.map((f) => this.ownView(l, f))]),
      div({ class: "card-acts" },
        tap({ words: "up", label: `up: ${l.id}`, off: !above, act: () => this.change(() => this.swap(l, /** @type {Draft} */ (above))) }),
        kept
          ? p({ class: "fact" }, "carries a rule: cannot be taken out")
          : tap({
            words: `take ${l.listed ? l.id : "it"} out`, label: `take ${l.listed ? l.id : "it"} out: ${l.id}`,
            act: () => this.change(() => { this.lines = this.lines.filter((x) => x !== l); }),
          })));
  }

  /** @param {Draft} x @param {Draft} y */
  swap(x, y) {
    const [i, j] = [this.lines.indexOf(x), this.lines.indexOf(y)];
    [this.lines[i], this.lines[j]] = [y, x];
  }

  /** @param {Draft} l @param {"ask" | "touch" | "say" | "not"} name @param {string} title */
  wordView(l, name, title) {
    const id = `w-${l.id}-${name}`;
    const props = {
      id, value: l.draft[name], placeholder: l.listed?.[name] ?? "",
      onInput: (/** @type {any} */ e) => this.change(() => { l.draft[name] = e.currentTarget.value; }),
    };
    return label({ key: name, class: `field ${name === "ask" ? "note" : "text"}`, for: id }, span({ class: "label" }, title),
      name === "ask" ? textarea({ ...props, rows: 2 }) : input({ ...props, type: "text", autoComplete: "off" }));
  }

  /** @param {Draft} l */
  partView(l) {
    const options = [...new Set(this.listed.lines.map((x) => x.part))]
      .filter((part) => part !== "sign")
      .map((part) => /** @type {[string, string]} */ ([part, partWords[part] ?? part]));
    if (options.length < 2) return null;
    const held = { part: l.part };
    return fieldView(
      { name: "part", label: "stands in", type: "choice", options },
      new Proxy(held, { set: (_, __, value) => { this.change(() => { l.part = value || l.part; }); return true; } }),
      `${l.id}-part`,
      this,
    );
  }

  /** @param {Draft} l @param {import("./fields.js").Field} f */
  ownView(l, f) {
    const only = { unit: "number", least: "number", most: "number", choices: "choice" }[f.name];
    return only && l.draft.kind !== only ? null : fieldView(f, l.draft, `${l.id}-${f.name}`, this);
  }
}
