// Act: what this screen asked of the board and how it went. A refusal stays until
// it is read; an ordinary act can be taken back for 8 s; what is not sent yet is
// listed in words.

import { div, h, h2, label, li, p, section, span, tap, ul } from "./tags.js";
import { commandWords, count } from "./words.js";

/** @typedef {import("./wire.d.ts").Ctx} Ctx */
/** @typedef {import("./wire.d.ts").Commands} Commands */
/** @typedef {import("./wire.d.ts").Refusal} Refusal */
/** @typedef {import("./live.js").Outcome} Outcome */

/**
 * @template {keyof Commands} D
 * @typedef {object} Deed
 * @property {D} do
 * @property {Commands[D]} with
 * @property {Record<string, number>} [seen]
 * @property {{person: string, pin: string}[]} [pins]
 * @property {Blob} [photo] stored before the command goes
 * @property {string} says what it is called once done: "started 41"
 * @property {boolean} [undo] it can be taken back
 * @property {boolean} [quiet] a refusal is shown by the caller
 */

const UNDO_MS = 8000;

/**
 * How the last act went. It outlives the screen that asked: a refusal stays until
 * it is read, wherever the person has gone meanwhile.
 * @typedef {object} Went
 * @property {{says: string, refusal: Refusal} | null} refused
 * @property {{says: string, id: string, until: number} | null} done shown until then, by performance.now; id: of the command that can be taken back, or ""
 */

/** @type {WeakMap<Ctx, Went>} */
const wents = new WeakMap();

/** The acts of one screen. */
export class Acts {
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  #timer;

  /** @param {Ctx} ctx @param {() => void} redraw */
  constructor(ctx, redraw) {
    this.ctx = ctx;
    this.redraw = redraw;
    /** @type {Went} */
    this.went = wents.get(ctx) ?? { refused: null, done: null };
    wents.set(ctx, this.went);
    this.#awaitEnd();
  }

  /** Forgets its timer: the screen is gone. */
  stop() {
    clearTimeout(this.#timer);
    this.redraw = () => {};
  }

  /** Draws again when what was done has been shown long enough. */
  #awaitEnd() {
    clearTimeout(this.#timer);
    if (!this.went.done) return;
    this.#timer = setTimeout(() => {
      this.went.done = null;
      this.redraw();
    }, Math.max(0, this.went.done.until - performance.now()));
  }

  /**
   * Asks the board for one thing and keeps how it went.
   * @template {keyof Commands} D
   * @param {Deed<D>} deed
   * @returns {Promise<Outcome>}
   */
  async ask(deed) {
    this.went.done = null;
    const { seen, pins, photo } = deed;
    const answer = await this.ctx.live.send(deed.do, deed.with, { seen, pins, photo });
    if (answer.refusal) {
      if (!deed.quiet) this.went.refused = { says: deed.says, refusal: answer.refusal };
    } else {
      this.went.refused = null;
      if (!answer.waits) this.#tell(deed.says, deed.undo ? answer.id : "");
    }
    this.redraw();
    return answer;
  }

  /** @param {string} says @param {string} id */
  #tell(says, id) {
    this.ctx.say(says);
    this.went.done = { says, id, until: performance.now() + UNDO_MS };
    this.#awaitEnd();
  }

  /** The lines that tell how it went: they stand above the screen's buttons. */
  view() {
    return div({ class: "acts" }, this.#waitingView(), this.#refusedView(), this.#doneView());
  }

  #refusedView() {
    if (!this.went.refused) return null;
    const { says, refusal } = this.went.refused;
    return section(
      { class: "refused", role: "status" },
      h2(null, `Not done: ${says}`),
      p(null, refusal.sentence),
      refusal.rule ? p({ class: "rule" }, `rule ${refusal.rule}`) : null,
      tap({ words: "I have read it", act: () => { this.went.refused = null; this.redraw(); } }),
    );
  }

  #doneView() {
    const { done } = this.went;
    if (!done) return null;
    return div(
      { class: done.id ? "done undoable" : "done" },
      span(null, done.says),
      done.id ? tap({ words: "undo", act: () => this.ask({ do: "undo", with: { command: done.id }, says: `took back: ${done.says}` }) }) : null,
    );
  }

  #waitingView() {
    const waiting = this.ctx.live.waiting;
    if (waiting.length === 0) return null;
    return section(
      { class: "waiting" },
      h2(null, `${count(waiting.length, "thing")} not sent yet`),
      ul(null, waiting.map((/** @type {any} */ w) => li({ key: w.id }, commandWords(this.ctx.board, w.do, w.with)))),
    );
  }
}

/** The revision of a noun on this screen, 0 where there is none. @param {Ctx} ctx @param {string} key */
export const revOf = (ctx, key) => /** @type {{v?: number} | undefined} */ (ctx.board.get(/** @type {any} */ (key)))?.v ?? 0;

/** What this screen saw of these nouns. @param {Ctx} ctx @param {string[]} keys @returns {Record<string, number>} */
export const sawOf = (ctx, ...keys) => Object.fromEntries(keys.map((key) => [key, revOf(ctx, key)]));

/**
 * @typedef {object} PadProps
 * @property {string} id of the field
 * @property {string} label
 * @property {string} value
 * @property {(text: string) => void} set
 * @property {boolean} [point] a decimal point can be typed
 * @property {boolean} [hidden] what is typed is not shown
 */

/** A number typed on big keys; a keyboard works too. @param {PadProps} props @param {import("./tags.js").Children} [beside] buttons in the field's row */
export function pad(props, beside) {
  const { value, set, point = false } = props;
  const key = (/** @type {string} */ k) => tap({ key: k, class: "pad-key", words: k, act: () => set(value + k) });
  return div(
    { class: "pad" },
    padField(props, beside),
    div(
      { class: "pad-keys" },
      "123".split("").map(key),
      tap({ key: "back", class: "pad-key", words: "back", act: () => set(value.slice(0, -1)) }),
      "456".split("").map(key),
      point
        ? tap({ key: "point", class: "pad-key", words: ".", act: () => set(value.includes(".") ? value : `${value || "0"}.`) })
        : span({ key: "none" }),
      "7890".split("").map(key),
    ),
  );
}

/** @param {PadProps} props @param {import("./tags.js").Children} beside */
function padField({ id, label: words, value, set, hidden }, beside) {
  return div(
    { class: "pad-field" },
    beside,
    label({ for: id, class: beside ? "unseen" : undefined }, words),
    h("input", {
      id,
      type: hidden ? "password" : "text",
      inputMode: "none",
      autoComplete: "off",
      value,
      onInput: (/** @type {any} */ e) => set(e.currentTarget.value.replace(",", ".")),
    }),
  );
}
