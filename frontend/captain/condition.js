// Captain: how the board is, in the one line that its banner says too, and what was
// amiss with its file when it was started.

import { b, div, h2, p, tap } from "../core/tags.js";

/** @typedef {import("./captain.js").Captain} Captain */
/** @typedef {import("../core/wire.d.ts").HealthAnswer} Health */

const askEvery = 60_000; // ms
const seenKey = "mendline.condition.seen";

/** Asked of the server while the captain's screen is shown. */
export class Condition {
  /** @type {Health | null} */
  is = null;
  /** What the screen was last told. @type {string | undefined} */
  told;

  /** @param {Captain} captain */
  constructor(captain) {
    this.captain = captain;
    this.timer = setInterval(() => this.ask(), askEvery);
    this.end = captain.ctx.live.onStatus(() => this.#askIfOther());
    this.#askIfOther();
  }

  /** Asks at once where the screen has just been told of something that the answer says too. */
  #askIfOther() {
    const { clockSaid, readOnly } = this.captain.ctx.live;
    const told = `${clockSaid} ${readOnly}`;
    if (told === this.told) return;
    this.told = told;
    this.ask();
  }

  async ask() {
    const answer = await fetch("/api/health", { cache: "no-store" }).catch(() => null);
    if (!answer?.ok) return;
    this.is = await answer.json().catch(() => this.is);
    this.captain.redraw();
  }

  stop() {
    clearInterval(this.timer);
    this.end();
  }

  /** What there is to look at, less the figures that change by themselves. */
  get #about() {
    return this.is ? `${this.is.start.says} ${this.is.disk.bad} ${this.is.clock ?? ""}` : "";
  }

  /** Over the lists, until the captain has seen it. */
  strip() {
    if (!this.is?.bad || localStorage.getItem(seenKey) === this.#about) return null;
    return div({ class: "condition", role: "status" },
      this.#said(this.is),
      tap({
        words: "seen",
        act: () => {
          localStorage.setItem(seenKey, this.#about);
          this.captain.redraw();
        },
      }));
  }

  view() {
    return div({ key: "condition" }, h2(null, "how the board is"), this.is ? this.#said(this.is) : p({ class: "hint" }, "…"));
  }

  /** @param {Health} is */
  #said(is) {
    return div(null, p(null, b(null, is.line)), is.recovered.map((words, i) => p({ key: i }, words)));
  }
}
