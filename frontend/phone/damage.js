// Damage: report what is broken in three steps, hang a photo on it before or after,
// make a job of it.

import { Acts, framed } from "../core/acts.js";
import { div, h1, input, label, tap } from "../core/tags.js";
import { bendPage, takeProposal } from "./damage-bend.js";
import { freePage, jobPage } from "./damage-job.js";
import { groups, onMap, partsPage, wherePage } from "./damage-where.js";
import { hang, photoPage } from "./damage-photo.js";
import { isOpen } from "../sheet/lines.js";
import { madeId } from "../core/board.js";
import { needPage, reportPage } from "./damage-need.js";
import { robotName, robots, screen } from "../core/screen.js";

/** @typedef {import("../core/ctx.d.ts").Ctx} Ctx */
/** @typedef {import("../core/wire.d.ts").Grade} Grade */
/** @typedef {import("../core/wire.d.ts").System} System */

/** @typedef {"where" | "parts" | "need" | "report" | "measure" | "photo" | "job" | "free"} Page */

/** @type {Record<Page, (on: Report) => import("../core/tags.js").Node>} */
const pages = {
  where: wherePage, parts: partsPage, need: needPage, report: reportPage, measure: bendPage, photo: photoPage, job: jobPage, free: freePage,
};

/** The pages of what is already on the board, or on its way. */
const after = ["photo", "job", "free"];

/** The report as it is filled in, page by page. */
export class Report {
  /** @type {Page} */
  page = "where";
  /** @type {Record<string, string>} */
  typed = {};
  /** What the job touches. @type {System[]} */
  touches = [];
  stuck = false;
  destroyed = false;
  /** The assembly whose parts are shown, by name. */
  assembly = "";
  damage = "";
  photoNews = "";
  /** The one that is filled in was found at the line. */
  atLine = false;
  /** Photos that go once the damage is reported. @type {Blob[]} */
  photos = [];
  /** How many measurements there were before this phone's, whether its own is still to come back, and whether there is one. */
  before = 0;
  awaits = false;
  measured = false;

  /**
   * @param {HTMLElement} root @param {Ctx} ctx @param {string} robot
   * @param {string} damage one that is on the board and gets a job, or ""
   * @param {string} sheet @param {string} line what was looked at when it was found, or ""
   */
  constructor(root, ctx, robot, damage, sheet, line) {
    this.ctx = ctx;
    this.robot = robot;
    this.sheet = sheet;
    this.line = ctx.board.get(`sheet/${sheet}`)?.lines.find((l) => l.id === line);
    if (this.fights.length) this.from(this.fights[0].id);
    const known = ctx.board.get(`damage/${damage}`);
    if (known) {
      this.damage = damage;
      this.page = "job";
      this.typed = { part: known.part, grade: known.grade };
    } else if (this.line) this.found(this.line);
    this.screen = screen(root, ctx, () => this.view());
    this.acts = new Acts(ctx, this.screen.redraw);
    this.screen.redraw();
  }

  get board() {
    return this.ctx.board;
  }

  get part() {
    return (this.typed.part ?? "").trim();
  }

  /** The report is neither on the board nor on its way: it was taken back. */
  get takenBack() {
    return after.includes(this.page) && !this.board.get(`damage/${this.damage}`)
      && !this.ctx.live.waiting.some((w) => w.do === "damage.report");
  }

  /** The way to where the report was begun: a line that is answered was being answered again. */
  get begun() {
    const sheet = this.board.get(`sheet/${this.sheet}`);
    if (!sheet || !this.line) return "#/me";
    return isOpen(sheet, this.line) ? `#/sheet/${sheet.id}` : `#/sheet/${sheet.id}/${this.line.id}`;
  }

  /** The robot's fights that were fought or are on, the last first. */
  get fights() {
    return this.board.all("fight")
      .filter((f) => f.robot === this.robot && (f.state === "done" || f.state === "on"))
      .sort((x, y) => y.number - x.number);
  }

  /** From a fight, and the hit of it that was reported last; where none was, nobody has said which. @param {string} fight */
  from(fight) {
    const last = this.board.all("damage")
      .filter((d) => d.robot === this.robot && d.fight === fight && d.hit && !d.dropped).sort((x, y) => y.number - x.number)[0];
    Object.assign(this.typed, { fight, hit: String(last?.hit ?? ""), severity: last?.severity ?? "" });
  }

  /**
   * Found at a line of the inspection: its group, to be put right unless someone says less.
   * @param {import("../core/wire.d.ts").Line} line
   */
  found(line) {
    this.atLine = true;
    this.typed.part = groups[line.id] ?? line.touch ?? line.ask.slice(0, 40);
    this.typed.grade = "G3";
    this.page = "report";
  }

  /** @param {string} name @param {string} text */
  type(name, text) {
    if (name === "fight") this.from(text);
    else this.typed[name] = text;
    this.screen.redraw();
  }

  /** @param {Page} page */
  show(page) {
    this.page = page;
    this.screen.redraw();
  }

  /** @param {string} assembly */
  open(assembly) {
    this.assembly = assembly;
    this.show("parts");
  }

  /** @param {string} part */
  choose(part) {
    if (part !== this.part) this.measured = this.awaits = false;
    this.typed.part = part;
    this.show(this.typed.grade ? "report" : "need");
  }

  measure() {
    this.typed.at = "gap";
    this.show("measure");
  }

  view() {
    if (!this.board.get(`robot/${this.robot}`)) return this.robotPage();
    if (this.takenBack) {
      this.damage = "";
      this.page = "report";
    }
    takeProposal(this);
    return pages[this.page](this);
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

  /** @param {"stuck" | "destroyed"} name @param {string} words */
  flip(name, words) {
    return this.toggle(name, words, this[name], () => { this[name] = !this[name]; this.screen.redraw(); });
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
      }))), tap({ class: "main goes", words: "BACK", act: () => this.ctx.go("#/me") }));
  }

  /**
   * A page's foot: the way back, beside the main button.
   * @param {import("../core/tags.js").Children} main
   * @param {Page} [to] without one, to where the report was begun
   */
  foot(main, to) {
    return div({ class: "beside" }, tap({ key: "back", words: "back", act: () => (to ? this.show(to) : this.ctx.go(this.begun)) }), main);
  }

  /** The one that reports; off, it names what is missing. */
  reportButton() {
    const missing = this.part ? (this.typed.grade ? "" : ": WHAT DOES IT NEED?") : ": WHICH PART?";
    return tap({ class: "main", words: `REPORT IT${missing}`, off: missing !== "", act: () => this.report() });
  }

  /** @param {boolean} [accept] */
  async report(accept = false) {
    const { what = "", grade, fight, hit, severity, worksPct } = this.typed;
    const answer = await this.acts.ask({
      do: "damage.report",
      with: {
        robot: this.robot, part: this.part, grade: /** @type {Grade} */ (grade),
        ...(what.trim() ? { what: what.trim() } : {}),
        ...(fight ? { fight } : {}),
        ...(fight && hit ? { hit: Number(hit) } : {}),
        ...(fight && severity ? { severity: /** @type {"hard"} */ (severity) } : {}),
        ...(this.stuck ? { stuck: true } : {}),
        ...(this.destroyed ? { destroyed: true } : {}),
        ...(worksPct ? { worksPct: Number(worksPct) } : {}),
        ...(this.atLine && this.line?.covers ? { touches: this.line.covers } : {}),
        ...onMap(this),
        ...(accept ? { accept } : {}),
      },
      says: `damage on ${robotName(this.ctx, this.robot)}: ${this.part}`,
      undo: true,
    });
    if (answer.refusal) return;
    this.damage = madeId(answer.id, "damage");
    const photos = this.photos.splice(0);
    this.show("photo");
    for (const photo of photos) hang(this, photo);
  }

  /** @param {string} [part] */
  another(part = "") {
    const { fight = "", hit = "", severity = "" } = this.typed;
    this.typed = { fight, hit, severity, part };
    this.stuck = this.destroyed = this.measured = this.awaits = this.atLine = false;
    this.photoNews = this.damage = "";
    this.touches = [];
    this.show(part ? "need" : "where");
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
export function mount(root, ctx, _name, robot = "", damage = "", sheet = "", line = "") {
  const report = new Report(root, ctx, robot, damage, sheet, line);
  return () => report.end();
}
