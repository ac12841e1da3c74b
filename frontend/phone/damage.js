// Damage: report what is broken, hang a photo on it, make a job of it. The report
// goes first; the photo follows and holds nothing up.

import { Acts, framed } from "../core/acts.js";
import { div, h, h1, h2, label, input, p, tap } from "../core/tags.js";
import { madeId } from "../core/board.js";
import { freePage, jobPage } from "./damage-job.js";
import { nextView, onMap, pctView, placesView } from "./damage-map.js";
import { leads, robotName, robots, screen } from "../core/screen.js";

/** @typedef {import("../core/ctx.d.ts").Ctx} Ctx */
/** @typedef {import("../core/wire.d.ts").Grade} Grade */
/** @typedef {import("../core/wire.d.ts").System} System */

/** What a grade asks for, in words (trade: mended now, patched, or left). @type {[Grade, string][]} */
const grades = [
  ["GX", "can hurt people: lock, link, failsafe, pack, gas, cracked weapon"],
  ["G3", "mend or swap it before we fight"],
  ["G2", "a patch will do"],
  ["G1", "it can wait, and is looked at after each fight"],
  ["G4", "not today"],
  ["G0", "no action, just noted"],
];
/** @type {["glancing" | "solid" | "hard", string][]} */
const severities = [["glancing", "glancing"], ["solid", "solid"], ["hard", "hard"]];



const PHOTO_PX = 1600;
const PHOTO_QUALITY = 0.8;
const PHOTO_MOST_BYTES = 400_000;

/**
 * Shrinks a photo on the phone: long side 1600 px, JPEG. Smaller where the phone
 * cannot hold the whole picture or the result is still heavy.
 * @param {Blob} file
 * @returns {Promise<Blob | null>} null where the picture cannot be read
 */
export async function shrink(file) {
  for (const px of [PHOTO_PX, PHOTO_PX / 2, PHOTO_PX / 4]) {
    const blob = await shrunk(file, px).catch(() => null);
    if (blob && (blob.size <= PHOTO_MOST_BYTES || px < PHOTO_PX)) return blob;
  }
  return null;
}

/** @param {Blob} file @param {number} px @returns {Promise<Blob | null>} */
async function shrunk(file, px) {
  const narrow = await createImageBitmap(file, { resizeWidth: px, resizeQuality: "high" });
  const scale = Math.min(1, px / Math.max(narrow.width, narrow.height));
  const canvas = document.createElement("canvas");
  canvas.width = Math.round(narrow.width * scale);
  canvas.height = Math.round(narrow.height * scale);
  canvas.getContext("2d")?.drawImage(narrow, 0, 0, canvas.width, canvas.height);
  narrow.close();
  return new Promise((done) => canvas.toBlob(done, "image/jpeg", PHOTO_QUALITY));
}

/** The report as it is filled in, page by page. */
export class Report {
  /** @type {"what" | "photo" | "job" | "free"} */
  page = "what";
  /** @type {Record<string, string>} */
  typed = {};
  /** @type {System[]} */
  touches = [];
  stuck = false;
  destroyed = false;
  /** The assembly whose parts are shown, by name. */
  assembly = "";
  damage = "";
  photoNews = "";

  /**
   * @param {HTMLElement} root @param {Ctx} ctx @param {string} robot
   * @param {string} damage one that is on the board and gets a job, or ""
   */
  constructor(root, ctx, robot, damage) {
    this.ctx = ctx;
    this.robot = robot;
    const known = ctx.board.get(`damage/${damage}`);
    if (known) {
      this.damage = damage;
      this.page = "job";
      this.typed = { part: known.part, grade: known.grade };
    }
    this.screen = screen(root, ctx, () => this.view());
    this.acts = new Acts(ctx, this.screen.redraw);
    this.typed.fight ??= this.fights[0]?.id ?? "";
    this.screen.redraw();
  }

  get board() {
    return this.ctx.board;
  }

  /** The report is neither on the board nor on its way: it was taken back. */
  get takenBack() {
    return this.page !== "what" && !this.board.get(`damage/${this.damage}`) && !this.ctx.live.waiting.some((w) => w.do === "damage.report");
  }

  /** The robot's fights that were fought or are on, the last first. */
  get fights() {
    return this.board.all("fight")
      .filter((f) => f.robot === this.robot && (f.state === "done" || f.state === "on"))
      .sort((x, y) => y.number - x.number);
  }

  /** Parts reported before on this robot, the last first. */
  get parts() {
    const found = this.board.all("damage").filter((d) => d.robot === this.robot).sort((x, y) => y.number - x.number).map((d) => d.part);
    return [...new Set(found)].slice(0, 6);
  }

  /** @param {string} name @param {string} text */
  type(name, text) {
    this.typed[name] = text;
    this.screen.redraw();
  }

  /** @param {"what" | "photo" | "job" | "free"} page */
  show(page) {
    this.page = page;
    this.screen.redraw();
  }

  view() {
    if (!this.board.get(`robot/${this.robot}`)) return this.robotPage();
    if (this.takenBack) this.page = "what";
    return {
      what: () => this.whatPage(), photo: () => this.photoPage(), job: () => jobPage(this), free: () => freePage(this),
    }[this.page]();
  }

  /** @param {string} title @param {import("../core/tags.js").Children} body @param {import("../core/tags.js").Children} foot */
  frame(title, body, foot) {
    return framed(this.acts, {
      key: `${this.page} ${this.damage}`, robot: this.robot, middle: [h1({ class: "title" }, title), body], foot,
    });
  }

  /**
   * Buttons of which one is chosen; tapping it again takes it back.
   * @param {string} name
   * @param {readonly (readonly [string, string])[]} options
   * @param {string} [cls]
   */
  choice(name, options, cls = "choices") {
    return div({ class: cls, role: "group" },
      options.map(([value, words]) =>
        this.toggle(value, words, this.typed[name] === value, () => this.type(name, this.typed[name] === value ? "" : value))));
  }

  /** @param {string} key @param {string} words @param {boolean} on @param {() => void} act */
  toggle(key, words, on, act) {
    return tap({ key, class: on ? "choice chosen" : "choice", words: on ? `✓ ${words}` : words, act });
  }

  /** @param {string} name @param {string} words */
  field(name, words) {
    return div({ class: "text-field" }, label({ for: name }, words),
      input({
        id: name, type: "text", autoComplete: "off", value: this.typed[name] ?? "", onInput: (e) => this.type(name, e.currentTarget.value),
      }));
  }

  robotPage() {
    return this.frame("Damage on which robot?", div({ class: "choices" }, robots(this.ctx).map((r) =>
      tap({
        key: r.id, class: "choice", words: robotName(this.ctx, r.id), act: () => this.ctx.go(`#/damage/${r.id}`),
      }))), this.home("BACK"));
  }

  /** @param {string} words */
  home(words) {
    return tap({ class: "main goes", words, act: () => this.ctx.go("#/me") });
  }

  whatPage() {
    const part = (this.typed.part ?? "").trim();
    const ready = part && this.typed.grade;
    return this.frame("What is damaged?",
      [
        this.field("part", "part"),
        nextView(this),
        placesView(this) ?? (this.parts.length ? this.choice("part", this.parts.map((x) => /** @type {const} */ ([x, x]))) : null),
        this.field("what", "what is wrong with it"),
        h2(null, "what does it need?"),
        this.choice("grade", grades, "stack"),
        h2(null, "stuck?"),
        div({ class: "choices" },
          this.toggle("stuck", "jammed, will not come apart", this.stuck, () => { this.stuck = !this.stuck; this.screen.redraw(); }),
          this.toggle("destroyed", "broke when taken out", this.destroyed, () => {
            this.destroyed = !this.destroyed;
            this.screen.redraw();
          })),
        pctView(this),
        this.hitView(),
      ],
      [
        ready ? null : p({ class: "hint" }, "Name the part and say what it needs."),
        div({ class: "row" },
          tap({ words: "back", act: () => this.ctx.go("#/me") }),
          this.mayAccept ? tap({ words: "report, and I accept it", off: !ready, act: () => this.report(true) }) : null),
        tap({ class: "main", words: "REPORT IT", off: !ready, act: () => this.report() }),
      ]);
  }

  hitView() {
    if (this.fights.length === 0) return null;
    const hits = Array.from({ length: 6 }, (_, i) => /** @type {const} */ ([String(i + 1), `hit ${i + 1}`]));
    return [
      h2(null, "from which fight"),
      this.choice(
        "fight",
        this.fights.slice(0, 4).map((f) => /** @type {const} */ ([f.id, `fight ${f.number}${f.opponent ? `, ${f.opponent}` : ""}`])),
      ),
      this.typed.fight
        ? [
          h2(null, "which hit of it"),
          this.choice("hit", hits, "choices three"),
          h2(null, "how hard"),
          this.choice("severity", severities, "choices three"),
        ]
        : null,
    ];
  }

  /** Small damage on a robot that this person leads: they may say at once that it stays as it is. */
  get mayAccept() {
    return ["G1", "G2"].includes(this.typed.grade ?? "") && leads(this.ctx, this.robot);
  }

  /** @param {boolean} [accept] */
  async report(accept = false) {
    const { part = "", what = "", grade, fight, hit, severity, worksPct } = this.typed;
    const answer = await this.acts.ask({
      do: "damage.report",
      with: {
        robot: this.robot, part: part.trim(), grade: /** @type {Grade} */ (grade),
        ...(what.trim() ? { what: what.trim() } : {}),
        ...(fight ? { fight } : {}),
        ...(fight && hit ? { hit: Number(hit) } : {}),
        ...(fight && severity ? { severity: /** @type {"hard"} */ (severity) } : {}),
        ...(this.stuck ? { stuck: true } : {}),
        ...(this.destroyed ? { destroyed: true } : {}),
        ...(worksPct ? { worksPct: Number(worksPct) } : {}),
        ...onMap(this),
        ...(accept ? { accept } : {}),
      },
      says: `damage on ${robotName(this.ctx, this.robot)}: ${part.trim()}`,
      undo: true,
    });
    if (answer.refusal) return;
    this.damage = madeId(answer.id, "damage");
    this.show("photo");
  }

  photoPage() {
    const file = (/** @type {string} */ id, /** @type {string} */ words, /** @type {boolean} */ camera) =>
      label({ class: "press file", for: id }, words,
        h("input", {
          id, type: "file", class: "unseen", accept: "image/jpeg,image/png", ...(camera ? { capture: "environment" } : {}),
          onChange: (/** @type {any} */ e) => this.hang(e.currentTarget),
        }));
    return this.frame("A photo of it?",
      [
        p({ class: "lead" }, `Reported: ${this.typed.part}. The photo follows by itself, you need not wait for it.`),
        div({ class: "stack" }, file("take", "take a photo", true), file("choose", "choose a photo", false)),
        div({ role: "status" },
          this.photoLines.map((words) => p({ key: words, class: "lead" }, words)),
          this.photoNews ? p({ key: "news", class: "lead" }, this.photoNews) : null),
        nextView(this),
      ],
      [
        div({ class: "row" },
          tap({ words: "my next move", act: () => this.ctx.go("#/me") }),
          tap({ words: "another damage", act: () => this.another() })),
        tap({ class: "main goes", words: "MAKE A JOB OF IT", act: () => this.show("job") }),
      ]);
  }

  /** How far each photo of this damage is. */
  get photoLines() {
    const there = this.board.get(`damage/${this.damage}`)?.photos ?? [];
    const going = this.ctx.live.photos.filter((w) => w.with.damage === this.damage && !there.includes(w.with.photo));
    return [
      ...there.map((_, i) => `photo ${i + 1}: on the board`),
      ...going.map(({ sent }, i) =>
        `photo ${there.length + i + 1}: ${sent === undefined ? "not sent yet, it goes by itself" : `${sent} % sent`}`),
    ];
  }

  /** @param {string} [part] */
  another(part = "") {
    const { fight, hit } = this.typed;
    this.typed = { fight: fight ?? "", ...(part ? { part, ...(hit ? { hit } : {}) } : {}) };
    this.stuck = false;
    this.destroyed = false;
    this.photoNews = "";
    this.touches = [];
    this.show("what");
  }

  /** @param {HTMLInputElement} field */
  async hang(field) {
    const file = field.files?.[0];
    field.value = "";
    if (!file) return;
    this.news("making the photo smaller …");
    const photo = await shrink(file);
    if (!photo) return this.news("This phone cannot read that picture. Take a screenshot of it and choose that.");
    this.news("");
    await this.acts.ask({ do: "damage.photo", with: { damage: this.damage, photo: "" }, photo, says: `photo of ${this.typed.part}` });
  }

  /** @param {string} sentence */
  news(sentence) {
    this.photoNews = sentence;
    this.screen.redraw();
  }

  end() {
    this.acts.stop();
    this.screen.end();
  }
}

/** Shows the report for a robot; without one it asks which. @type {import("../core/ctx.d.ts").Mount} */
export function mount(root, ctx, _name, robot = "", damage = "") {
  const report = new Report(root, ctx, robot, damage);
  return () => report.end();
}
