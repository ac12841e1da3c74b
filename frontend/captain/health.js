// Captain, health of packs: points of single readings with what each may be off by,
// and what was learned beside what was believed before.

import { b, div, h, h2, h3, p } from "../core/tags.js";
import { byName, robotName } from "../core/screen.js";

/** @typedef {import("./captain.js").Captain} Captain */
/** @typedef {import("../core/wire.d.ts").HealthPoint} HealthPoint */
/** @typedef {import("../core/wire.d.ts").LearnedFigure} LearnedFigure */

/** Each pack's age by its readings, and each robot's fights. @param {Captain} captain */
export function healthView(captain) {
  const { board, ctx } = captain;
  const packs = byName(board.all("pack").filter((k) => !k.retired));
  const read = packs.filter((k) => board.get(`packlog/${k.id}`));
  const fights = board.all("fightenergy").filter((e) => e.n > 0);
  const learned = read.flatMap((k) => {
    const health = board.get(`packhealth/${k.id}`);
    return health
      ? [
        figureRow(`${k.name}: mΩ a cell over a charge`, health.chargeOhm),
        figureRow(`${k.name}: min to cool by two thirds`, health.coolMin),
      ]
      : [];
  }).filter(Boolean);
  return div({ class: "health" },
    h2(null, "what packs taught us"),
    p({ class: "hint" },
      "Old and new side by side; n says how many cases the new one rests on. Pack times use the new one as soon as " +
        "there is one."),
    learned.length || fights.length
      ? figuresTable([
          ...learned,
          ...fights.map((e) => row(
            `${robotName(ctx, e.robot)}: Wh a fight`,
            `${e.guessLowWh} to ${e.guessHighWh}, for its weight`,
            e.lowWh === e.highWh ? `${e.wh}` : `${e.wh}, from ${e.lowWh} to ${e.highWh}`,
            e.n,
          )),
        ])
      : p({ class: "hint" },
        "Nothing yet: enter the Ah that went in and the minutes on the charger, and the temperature twice while a pack cools."),
    h2(null, "health of packs"),
    p({ class: "hint" },
      "Single readings, each with how far off it may be. No date is predicted from them: " +
        "straight lines through such points have been wrong by a factor of three."),
    read.length
      ? div({ class: "health-packs" }, read.map((k) => packHealthView(captain, k)))
      : p({ class: "lead" }, "No pack has been read yet."));
}

/** @param {unknown[]} rows */
const figuresTable = (rows) => h("table", null,
  h("thead", null, h("tr", null, ["", "guessed before", "learned", "n"].map((words, i) =>
    h("th", { key: words, scope: "col", class: i === 3 ? "n" : undefined }, words)))),
  h("tbody", null, /** @type {any} */ (rows)));

/** @param {string} what @param {string} before @param {string} is @param {number} n */
const row = (what, before, is, n) => h("tr", { key: what },
  h("th", { scope: "row" }, what),
  h("td", null, before),
  h("td", null, b(null, is)),
  h("td", { class: "n" }, String(n)));

/** @param {string} what @param {LearnedFigure} figure */
const figureRow = (what, figure) => (figure.n
  ? row(what, figure.before ? String(figure.before) : "not known", String(figure.value), figure.n)
  : null);

/** @param {Captain} captain @param {import("../core/wire.d.ts").Pack} pack */
function packHealthView(captain, pack) {
  const health = captain.board.get(`packhealth/${pack.id}`);
  if (!health) return null;
  const wear = { sound: "sound", worn: "WORN: not for weapons", "end-of-life": "AT ITS END by capacity or resistance" };
  return div({ class: "item", key: pack.id },
    h3(null, pack.name, health.wear ? ` · ${wear[health.wear]}` : ""),
    div({ class: "plots" },
      plot("Ah it holds", health.capacity, health.ratedAh, `label ${health.ratedAh}`),
      plot("mΩ a cell at 25 °C", health.ohms, health.ohms[0]?.value, "first reading"),
      plot("V between cells", health.spread, 0.05, "warn 0.05"),
      plot("part of the label a fight took", health.share, 0.8, "0.8: too small")));
}

/**
 * Points with their bands, by order of reading, and one line to compare with.
 * @param {string} title
 * @param {HealthPoint[]} points
 * @param {number | undefined} line
 * @param {string} lineWords
 */
function plot(title, points, line, lineWords) {
  if (!points.length) return null;
  const highest = Math.max(...points.map((q) => q.value + (q.plusMinus ?? 0)), line ?? 0) * 1.1 || 1;
  const x = (/** @type {number} */ i) => (points.length === 1 ? 60 : 8 + (104 * i) / (points.length - 1));
  const y = (/** @type {number} */ value) => 46 - (42 * value) / highest;
  const bands = points
    .filter((q) => q.plusMinus)
    .map((q) => `M${x(points.indexOf(q))} ${y(q.value - (q.plusMinus ?? 0))}V${y(q.value + (q.plusMinus ?? 0))}`)
    .join("");
  const last = points[points.length - 1];
  return div({ class: "plot", key: title },
    p({ class: "hint" }, `${title}: ${last.value}${last.plusMinus ? ` ± ${last.plusMinus}` : ""}, n ${points.length}`),
    h("svg", /** @type {any} */ ({
      viewBox: "0 0 120 50", role: "img", "aria-label": `${title}, ${points.length} readings, last ${last.value}`,
    }),
      line ? h("path", /** @type {any} */ ({ class: "line", d: `M4 ${y(line)}H116` })) : null,
      h("path", /** @type {any} */ ({ class: "band", d: bands || "M0 0" })),
      points.map((q, i) => h("circle", /** @type {any} */ ({ key: i, cx: x(i), cy: y(q.value), r: 2.5 })))),
    line ? p({ class: "hint" }, `line: ${lineWords}`) : null);
}
