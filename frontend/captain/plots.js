// Plots people can read in print: bars, a range with its middle, and a strip of
// points. Black on white or white on black; each says in words what it shows.

import { div, h, span } from "../core/tags.js";

/** @typedef {import("../core/tags.js").Node} Node */
/** @typedef {import("../core/wire.d.ts").DebriefRange} Range */

const WIDTH = 300;

/** @param {string} name @param {Record<string, unknown>} props @param {import("../core/tags.js").Children[]} children @returns {Node} */
const mark = (name, props, ...children) => h(name, /** @type {any} */ (props), ...children);

/** @param {number} height @param {string} words @param {import("../core/tags.js").Children[]} children */
const plot = (height, words, ...children) =>
  mark("svg", { class: "drawn", viewBox: `0 0 ${WIDTH} ${height}`, role: "img", "aria-label": words }, ...children);

/** The longest bar leaves room for its words, in percent. */
const BAR_MOST = 55;

/** A bar as long as its share of the longest, its words behind it. @param {number} amount @param {number} most @param {string} words */
export const bar = (amount, most, words) => div({ class: "bar-of" },
  mark("svg", { "aria-hidden": "true", width: `${most > 0 ? (BAR_MOST * amount) / most : 0}%`, height: 14 },
    mark("rect", { class: "solid", width: "100%", height: "100%" })),
  span(null, words));

/** From one in ten to nine in ten, the middle as a dot. @param {Range} range @param {number} most @param {string} words */
export function rangePlot(range, most, words) {
  const x = (/** @type {number} */ v) => 6 + ((WIDTH - 12) * v) / Math.max(most, 1e-9);
  return plot(18, words,
    mark("path", { class: "line", d: `M${x(range.p10)} 9H${x(range.p90)}M${x(range.p10)} 4V14M${x(range.p90)} 4V14` }),
    mark("circle", { class: "solid", cx: x(range.p50), cy: 9, r: 5 }));
}

/**
 * Calls along the chance that was given, 0 to 10 of 10: a call that was met is a dot
 * above the line, one that was missed a ring below it.
 * @param {{of10: number, met: boolean}[]} calls @param {string} words
 */
export function chanceStrip(calls, words) {
  const x = (/** @type {number} */ of10) => 12 + (of10 * (WIDTH - 24)) / 10;
  /** @type {Map<string, number>} */
  const stacked = new Map();
  const placed = calls.map(({ of10, met }) => {
    const row = stacked.get(`${of10} ${met}`) ?? 0;
    stacked.set(`${of10} ${met}`, row + 1);
    return { of10, met, row };
  });
  const rows = (/** @type {boolean} */ met) => 1 + Math.max(0, ...placed.filter((c) => c.met === met).map((c) => c.row));
  const line = 6 + 9 * rows(true);
  const height = line + 22 + 9 * rows(false);
  return plot(height, words,
    mark("path", { class: "line", d: `M0 ${line}H${WIDTH}` }),
    placed.map((c, i) => mark("circle", {
      key: i, class: c.met ? "solid" : "ring", cx: x(c.of10), cy: c.met ? line - 6 - 9 * c.row : line + 7 + 9 * c.row, r: c.met ? 4 : 3.5,
    })),
    Array.from({ length: 11 }, (_, n) => mark("text", { key: `w${n}`, x: x(n), y: height - 3, "text-anchor": "middle" }, String(n))));
}

/** How far the strip of ratios reaches to either side of 1, as a factor. */
const REACH = 8;

/**
 * Points on a line of ratios, 1 in the middle, doubled and halved at equal steps. An
 * open one is a ring with a stroke to the right: it would have been more.
 * @param {{ratio: number, open: boolean}[]} points @param {string} words
 */
export function ratioStrip(points, words) {
  const x = (/** @type {number} */ r) =>
    WIDTH / 2 + ((WIDTH / 2 - 12) * Math.log(Math.min(Math.max(r, 1 / REACH), REACH))) / Math.log(REACH);
  /** @type {Map<number, number>} */
  const stacked = new Map();
  const dots = points.map((point, i) => {
    const at = Math.round(x(point.ratio) / 9);
    const row = stacked.get(at) ?? 0;
    stacked.set(at, row + 1);
    const cx = x(point.ratio);
    const cy = 42 - row * 9;
    return point.open
      ? mark("path", { key: i, class: "ring", d: `M${cx - 4} ${cy}a4 4 0 1 0 8 0a4 4 0 1 0 -8 0M${cx + 4} ${cy}h7` })
      : mark("circle", { key: i, class: "solid", cx, cy, r: 4 });
  });
  const ticks = [1 / 4, 1 / 2, 1, 2, 4];
  return plot(66, words,
    mark("path", { class: "line", d: `M0 48H${WIDTH}` }),
    ticks.map((r) => mark("path", { key: `t${r}`, class: r === 1 ? "line" : "thin", d: `M${x(r)} ${r === 1 ? 0 : 44}V52` })),
    ticks.map((r) => mark("text", { key: `w${r}`, x: x(r), y: 64, "text-anchor": "middle" }, r < 1 ? `1/${1 / r}` : `${r}×`)),
    dots);
}
