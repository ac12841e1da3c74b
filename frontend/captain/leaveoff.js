// Captain: what would help a robot that is flagged, the best first. One press sends
// a remedy's commands one after the other; each can be taken back.

import { b, div, h3, p, tap } from "../core/tags.js";
import { chanceWords } from "../core/words.js";
import { revOf, robotName } from "../core/screen.js";
import { dots } from "../core/chance.js";

/** @typedef {import("./captain.js").Captain} Captain */
/** @typedef {import("../core/wire.d.ts").Remedy} Remedy */

/** The nouns that a remedy's command may be about, by its field. */
const abouts = ["job", "stock", "station", "fight", "pack"];

/** How long a remedy's undo stands: one looks at what it brought before deciding. */
const LOOK_MS = 120_000;

/** @param {number} ready as things stand @param {number} then */
const changeWords = (ready, then) => `${then === ready ? "still" : `${chanceWords(ready)} →`} ${chanceWords(then)}`;

/** The remedies on one captain's screen. */
export class Remedies {
  /** One is being sent: no other can be pressed meanwhile. */
  sending = false;

  /** @param {Captain} captain */
  constructor(captain) {
    this.captain = captain;
  }

  /** @param {string} robot */
  view(robot) {
    const known = this.captain.board.get(`leaveoff/${robot}`);
    if (!known) return null;
    return div(
      { class: "remedies", role: "group", "aria-label": `what would help ${robotName(this.captain.ctx, robot)}` },
      h3(null, "leave off, or do otherwise"),
      known.list.length
        ? known.list.map((x) => this.remedyView(x, known.ready, robotName(this.captain.ctx, robot)))
        : p({ class: "fact" }, "nothing that the board can try would help"),
    );
  }

  /** @param {Remedy} x @param {number} ready as things stand @param {string} robot that it helps */
  remedyView(x, ready, robot) {
    const change = changeWords(ready, x.then);
    return div({ class: "remedy", key: x.text },
      div({ class: "row-words" },
        p(null, b(null, x.text)),
        p({ class: "fact" },
          `${change} · helps in ${x.gain} ± ${x.err} of 100 simulated days `,
          dots(x.then)),
        x.others.map((o) =>
          p({ class: "fact", key: o.robot }, b(null, robotName(this.captain.ctx, o.robot)), ` ${changeWords(o.ready, o.then)}`))),
      tap({ key: "do", words: "do this", label: `do this for ${robot}: ${x.text}`, off: this.sending, act: () => this.apply(x) }));
  }

  /** @param {Remedy} x */
  async apply(x) {
    if (this.sending) return;
    this.sending = true;
    this.captain.redraw();
    try {
      await this.send(x);
    } finally {
      this.sending = false;
      this.captain.redraw();
    }
  }

  /** Stops at a refusal, which is shown in words. @param {Remedy} x */
  async send(x) {
    /** @type {string[]} */
    const before = [];
    for (const command of x.do) {
      const deed = /** @type {any} */ ({
        do: command.do, with: command.with, seen: this.saw(command.with), says: x.text, undo: true, undoMs: LOOK_MS, before: [...before],
      });
      const answer = await this.captain.acts.ask(deed);
      if (answer.refusal || answer.waits) return;
      before.unshift(answer.id);
    }
  }

  /** What this screen saw of the nouns a command is about. @param {any} fields @returns {Record<string, number>} */
  saw(fields) {
    const keys = abouts.filter((kind) => typeof fields[kind] === "string").map((kind) => `${kind}/${fields[kind]}`);
    return Object.fromEntries(keys.map((key) => [key, revOf(this.captain.ctx, key)]));
  }
}
