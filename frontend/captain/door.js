// The door: whether somebody who is not on the roster can join.

import { b, div, h2, left, p, tap } from "../core/tags.js";
import { clock } from "../core/clock.js";

/** @typedef {import("./access.js").Access} Access */
/** @typedef {import("../core/wire.d.ts").DoorAnswer} Answer */

export class Door {
  /** @type {Answer | null} */
  is = null;
  /** Looks again when a lifted lock falls. */
  timer = 0;

  /** @param {Access} access */
  constructor(access) {
    this.access = access;
  }

  async load() {
    this.#shows(await this.access.call("/api/door"));
  }

  /** @param {"lock" | "lift" | "unlock"} act @param {string} says */
  async #turn(act, says) {
    const answer = await this.access.call("/api/door", { do: act });
    if (answer) this.access.captain.ctx.say(says);
    this.#shows(answer);
    this.access.captain.redraw();
  }

  /** @param {Answer | null} answer */
  #shows(answer) {
    if (answer) this.is = answer;
    this.stop();
    if (!this.is?.liftedUntil) return;
    const again = async () => {
      await this.load();
      this.access.captain.redraw();
    };
    this.timer = setTimeout(again, Math.max(1000, Date.parse(this.is.liftedUntil) - clock.now() + 500));
  }

  stop() {
    clearTimeout(this.timer);
  }

  view() {
    if (!this.is) return null;
    const { locked, liftedUntil } = this.is;
    const lock = (/** @type {string} */ words) => tap({ key: "lock", words, act: () => this.#turn("lock", "the door is locked") });
    return [
      h2({ key: "door" }, "the door"),
      div({ class: "card door", key: "door-card" },
        !locked ? p(null, "Whoever has a code can join under a new name.")
          : liftedUntil ? p(null, "Open to new names for ", left({ until: liftedUntil }), " more.")
            : p(null, b(null, "Locked."), " Only people on the roster can join."),
        div({ class: "card-acts" },
          !locked ? lock("lock the door")
            : liftedUntil ? lock("lock it again")
              : tap({
                key: "lift", words: "let new names in for a minute",
                act: () => this.#turn("lift", "new names can join for a minute"),
              }),
          !locked ? null : tap({
            key: "unlock", class: "apart", words: "unlock the door",
            act: () => this.#turn("unlock", "the door is unlocked"),
          }))),
    ];
  }
}
