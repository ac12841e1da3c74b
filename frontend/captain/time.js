// Captain: the board's time, and setting it.

import { b, div, h2, hourNow, input, label, li, p, REST_MS, tap, ul } from "../core/tags.js";
import { nameOf } from "../core/words.js";
import { wireTime } from "./forms.js";

/** @typedef {import("./captain.js").Captain} Captain */
/** @typedef {import("../core/wire.d.ts").ClockAnswer} ClockAnswer */

export class BoardTime {
  /** What setting it would move; null before the captain has asked. @type {ClockAnswer | null} */
  asked = null;
  trouble = "";
  picked = "";
  /** The board has asked whether that is the right day: sent once more, it counts. */
  again = false;

  /** @param {Captain} captain */
  constructor(captain) {
    this.captain = captain;
  }

  /** Asks what it would move to go by a time, or with none by the laptop's clock. @param {string} [to] */
  async ask(to) {
    const answer = await fetch(`/api/clock${to ? `?to=${encodeURIComponent(to)}` : ""}`).catch(() => null);
    const said = await answer?.json().catch(() => null);
    this.asked = answer?.ok ? said : null;
    this.again = false;
    this.trouble = this.asked ? "" : (said?.refusal?.sentence ?? "The board did not answer. Try again when it is back.");
    if (this.asked?.bySec === 0) this.drop("The board has that time already.");
    this.captain.redraw();
  }

  /** @param {string} says */
  drop(says) {
    this.asked = null;
    this.again = false;
    this.trouble = says;
    this.captain.redraw();
  }

  /** @param {ClockAnswer} asked */
  async set({ bySec }) {
    const { acts, board } = this.captain;
    const seen = { "clock/clock": board.get("clock/clock")?.v ?? 0 };
    const says = "the board’s time is set";
    const answer = await acts.ask({ do: "time.set", with: { bySec, sure: this.again || undefined }, seen, says, quiet: true });
    this.again = answer.refusal?.field === "sure";
    if (!answer.refusal) return this.drop("");
    this.trouble = this.again ? answer.refusal.sentence : "";
    if (!this.again) acts.refuse(says, answer.refusal);
    this.captain.redraw();
  }

  view() {
    const { board, ctx } = this.captain;
    const last = board.get("clock/clock");
    return div(
      { class: "list" },
      div({ class: "column-head" }, h2(null, "the board’s time"), b(null, hourNow({}))),
      p({ class: "fact" }, ctx.live.clockSaid || "The laptop’s clock agrees with it, to a minute."),
      last?.at ? p({ class: "fact" }, `Set last${last.by ? ` by ${nameOf(board, last.by)}` : ""} at ${ctx.clock.hhmm(last.at)}.`) : null,
      this.trouble ? p({ class: "form-wrong", role: "status" }, this.trouble) : null,
      this.asked ? this.movesView(this.asked) : this.askView());
  }

  askView() {
    return [
      p({ key: "hint", class: "hint" },
        "It goes on by itself, whatever is done to the laptop’s clock. Set it only where it is wrong. You see first what that moves."),
      tap({ key: "laptop", words: "go by the laptop’s clock …", act: () => this.ask() }),
      label({ key: "at", for: "board-time" }, "or a time of your own",
        input({
          id: "board-time", type: "datetime-local", value: this.picked,
          onInput: (/** @type {Event} */ e) => (this.picked = /** @type {HTMLInputElement} */ (e.target).value),
        })),
      tap({
        key: "own", words: "go by that time …",
        act: () => (this.picked ? this.ask(wireTime(this.picked)) : this.drop("Choose a date and a time first.")),
      }),
    ];
  }

  /** @param {ClockAnswer} asked */
  movesView(asked) {
    return [
      ul({ key: "moves", class: "moves" }, asked.moves.map((says) => li({ key: says }, says))),
      tap({
        key: this.again ? "sure" : "set", restMs: REST_MS, words: this.again ? "YES, SET THE TIME" : "SET THE TIME",
        act: () => this.set(asked),
      }),
      tap({ key: "not", words: "cancel", act: () => this.drop("") }),
    ];
  }
}
