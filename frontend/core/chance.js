// Chance: on how many of ten such days a robot is ready for its call, in words and
// in ten dots; while nobody has inspected it, how long the work may take.

import { span } from "./tags.js";
import { chanceWords, minutes } from "./words.js";

/** @typedef {import("./wire.d.ts").Chance} Chance */

/** Ten dots, the first n filled, the others rings; the words beside them say the same. @param {number} n */
export const dots = (n) => span({ class: "dots", "aria-hidden": "true" },
  Array.from({ length: 10 }, (_, i) => span({ key: String(i), class: i < n ? "dot on" : "dot" })));

/** "15–50 min", in whole minutes. @param {Chance} k */
export const needWords = (k) => {
  const [low, high] = [k.needLowSec ?? 0, k.needHighSec ?? 0].map((sec) => minutes(sec));
  return low === high ? `${low} min` : `${low}–${high} min`;
};

/** @param {Chance | undefined} k */
export function chanceView(k) {
  if (!k) return null;
  if (k.uninspected || k.ready === undefined) {
    return span({ class: "chance", key: "chance" }, `not inspected: ${needWords(k)} of work, 8 of 10 times`);
  }
  return span({ class: "chance", key: "chance" }, `${chanceWords(k.ready)} we make the call `, dots(k.ready));
}
