// Paper: what was answered on a printed sheet while the board was down is entered
// here, one line at a time, by whoever answered it, with the time on the paper.

import { clock } from "../core/clock.js";
import { b, div, li, ol, p, tap } from "../core/tags.js";
import { nameOf } from "../core/words.js";
import { pad } from "../core/pad.js";

/** @typedef {import("../core/wire.d.ts").Answer} Answer */
/** @typedef {import("../core/wire.d.ts").Sheet} Sheet */
/** @typedef {import("../core/tags.js").Children} Children */
/**
 * What these pages need of the walk they belong to.
 * @typedef {object} Walk
 * @property {import("../core/ctx.d.ts").Ctx} ctx
 * @property {{redraw: () => void}} screen
 * @property {(sheet: Sheet, where: string, heads?: boolean) => import("../core/tags.js").Node} titleView
 * @property {(sheet: Sheet, key: string, middle: Children, foot: Children) => import("../core/tags.js").Node} frame
 */

const TIME_FIGURES = 4;
const MINUTE_MS = 60_000;
const DAY_MS = 24 * 60 * MINUTE_MS;

/** Four figures as a time of today at the event, or "" where they are none. @param {string} figures */
function timeOnPaper(figures) {
  const [hours, minutes] = [Number(figures.slice(0, 2)), Number(figures.slice(2))];
  if (figures.length !== TIME_FIGURES || hours > 23 || minutes > 59) return "";
  const shift = clock.offsetMin * MINUTE_MS;
  const midnight = Math.floor((clock.now() + shift) / DAY_MS) * DAY_MS;
  return new Date(midnight + (hours * 60 + minutes) * MINUTE_MS - shift).toISOString();
}

/**
 * What a line's answer says of paper, or null.
 * @param {import("../core/ctx.d.ts").Ctx} ctx
 * @param {Answer | undefined} a
 * @param {string} words
 */
export function paperWords(ctx, a, words) {
  if (!a?.paper) return null;
  return p({ class: "hint" },
    `on paper ${clock.hhmm(Date.parse(a.at))}, ${nameOf(ctx.board, a.by)}: ${words}. `,
    a.record ? "That is on record. Answer it again." : null);
}

/** The pages between "it was answered on paper" and the answer itself. */
export class Paper {
  figures = "";
  /** The line that is entered, by id. */
  line = "";
  /** The time on the paper, or "" while none is chosen. */
  at = "";

  /**
   * @param {Walk} walk
   * @param {(line: string) => void} entered begins the line's own page
   * @param {() => void} back leaves these pages
   */
  constructor(walk, entered, back) {
    this.walk = walk;
    this.entered = entered;
    this.back = back;
  }

  clear() {
    this.figures = this.line = this.at = "";
  }

  /** What the answer carries besides itself. */
  get fields() {
    return this.at ? { paper: true, at: this.at } : {};
  }

  /** @param {Sheet} sheet */
  view(sheet) {
    return this.line ? this.timePage(sheet) : this.linesPage(sheet);
  }

  /** @param {Sheet} sheet */
  linesPage(sheet) {
    const { walk } = this;
    return walk.frame(sheet, "from paper", [
      walk.titleView(sheet, "from paper", true),
      p({ class: "lead" }, "Enter what you answered on paper yourself, one line at a time. Which line?"),
      ol({ class: "earlier" }, sheet.lines.map((line) => li({ key: line.id },
        p(null, line.ask),
        tap({ words: "enter this line", act: () => { this.line = line.id; this.figures = ""; walk.screen.redraw(); } })))),
    ], tap({ class: "main goes", words: "BACK TO THE SHEET", act: this.back }));
  }

  /** @param {Sheet} sheet */
  timePage(sheet) {
    const { walk } = this;
    const at = timeOnPaper(this.figures);
    const set = (/** @type {string} */ text) => { this.figures = text.replace(/\D/g, "").slice(0, TIME_FIGURES); walk.screen.redraw(); };
    return walk.frame(sheet, `paper ${this.line}`, [
      walk.titleView(sheet, "paper", true),
      p({ class: "lead" }, b(null, sheet.lines.find((l) => l.id === this.line)?.ask ?? "")),
      pad({ id: "paper-time", label: "time on it, as 1402", value: this.figures, set }),
    ], [
      div({ class: "row" }, tap({ words: "another line", act: () => { this.line = ""; walk.screen.redraw(); } })),
      tap({
        class: "main", words: at ? `AT ${this.figures.slice(0, 2)}:${this.figures.slice(2)}` : "AT …", off: !at,
        act: () => { this.at = at; this.entered(this.line); },
      }),
    ]);
  }
}
