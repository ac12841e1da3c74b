// Captain, charging: each channel as a line of time, each circuit's load under what may
// be drawn, and what the readings say of each pack's age.

import { b, div, h, h2, h3, p, span, tap } from "./tags.js";
import { byName, robotName, sawOf } from "./screen.js";
import { fightPacksView } from "./fightpacks.js";

/** @typedef {import("./captain.js").Captain} Captain */
/** @typedef {import("./wire.d.ts").ChargeBar} ChargeBar */
/** @typedef {import("./wire.d.ts").HealthPoint} HealthPoint */
/** @typedef {import("./wire.d.ts").LearnedFigure} LearnedFigure */

/** How much of the future a line of time shows. */
const HOURS = 3;
const ms = (/** @type {string | undefined} */ time) => (time ? Date.parse(time) : 0);

/** The charging board. @param {Captain} captain */
export function chargeView(captain) {
  const { board, ctx } = captain;
  const channels = byName(board.all("channel").filter((c) => !c.retired));
  const from = Math.floor(ctx.clock.now() / 60000) * 60000;
  const circuits = byName(board.all("circuit").filter((k) => !k.retired));
  return div({ class: "charge-board" },
    h2(null, "packs for our fights"),
    fightPacksView(ctx),
    h2(null, "charging"),
    channels.length ? null : p({ class: "lead" }, "No charger is on the board. Enter one under chargers."),
    circuits.map((k) => circuitView(captain, k, channels.filter((c) => c.circuit === k.id), from)),
    channels.filter((c) => !circuits.some((k) => k.id === c.circuit)).map((c) => channelView(captain, c, from)),
    p({ class: "hint" }, "Forecasts from the readings: only a reading makes a pack charged. Circuits, leads and generators are the venue’s or an electrician’s to decide; the figures are those that someone entered."),
    healthView(captain));
}

/** A circuit with its channels: the load line, and its switch. @param {Captain} captain @param {import("./wire.d.ts").Circuit} k @param {import("./wire.d.ts").Channel[]} channels @param {number} from */
function circuitView(captain, k, channels, from) {
  const view = captain.board.get(`circuitview/${k.id}`);
  const off = Boolean(k.offAt);
  return div({ class: "circuit", key: k.id },
    h3(null, k.name, off ? span({ class: "class-a" }, ` OFF since ${captain.ctx.clock.hhmm(k.offAt)}`) : ` · ${view?.budgetVA ?? "?"} VA for chargers, by ${k.saidBy}`),
    view?.over ? p({ class: "fact class-a" }, "OVER what was entered for this circuit: stop a charge, or start it later") : null,
    view && !off ? loadLine(view, from) : null,
    channels.map((c) => channelView(captain, c, from)),
    off
      ? tap({ words: `${k.name} is on again`, act: () => captain.open({
          title: `${k.name} is on again`, do: "circuit.on", from: { saidBy: "" }, also: { circuit: k.id }, seen: sawOf(captain.ctx, `circuit/${k.id}`),
          fields: [{ name: "saidBy", label: "who answers for the wiring and said why", type: "text" }],
          says: `${k.name} is on again`, save: "it is on again", warns: "Stopped charges stay unknown until somebody looks.",
        }) })
      : tap({ words: `${k.name} has gone off`, act: () => captain.acts.ask({ do: "circuit.off", with: { circuit: k.id }, says: `${k.name} has gone off` }) }));
}

/** The draw of the charges as steps under the line of what may be drawn. @param {import("./wire.d.ts").CircuitView} view @param {number} from */
function loadLine(view, from) {
  const top = Math.max(view.budgetVA, ...view.load.map((s) => s.va), 1) * 1.1;
  const x = (/** @type {number} */ at) => Math.min(Math.max((at - from) / (HOURS * 36000), 0), 100);
  const y = (/** @type {number} */ va) => 40 - (40 * va) / top;
  const steps = view.load.map((s) => `H${x(ms(s.at)).toFixed(2)}V${y(s.va).toFixed(2)}`).join("");
  const most = Math.max(0, ...view.load.map((s) => s.va));
  return div({ class: "load" },
    h("svg", /** @type {any} */ ({ viewBox: "0 0 100 40", preserveAspectRatio: "none", role: "img", "aria-label": `charges draw at most ${most} of ${view.budgetVA} VA` }),
      h("path", /** @type {any} */ ({ class: "draw", d: `M0 40V${y(0)}${steps}H100V40Z` })),
      h("path", /** @type {any} */ ({ class: "budget", d: `M0 ${y(view.budgetVA)}H100` }))),
    p({ class: "hint" }, `charges draw at most ${most} VA of ${view.budgetVA}`));
}

/** @param {Captain} captain @param {import("./wire.d.ts").Channel} c @param {number} from */
function channelView(captain, c, from) {
  const bars = captain.board.get(`channelview/${c.id}`)?.bars ?? [];
  return div({ class: "channel", key: c.id },
    b(null, c.name), span({ class: "hint" }, ` ${c.charger} · ${c.maxAmps} A · ${c.maxWatts} W`),
    bars.length ? div({ class: "channel-line" }, bars.map((bar) => barView(captain, bar, from))) : p({ class: "hint" }, "nothing on it, nothing planned"),
    bars.map((bar) => p({ key: `${bar.pack}-${bar.startAt}`, class: bar.late ? "fact class-b" : "fact" }, barWords(captain, bar))));
}

/** @param {Captain} captain @param {ChargeBar} bar @param {number} from */
function barView(captain, bar, from) {
  const at = (/** @type {string} */ time) => Math.min(Math.max((ms(time) - from) / (HOURS * 36000), 0), 100);
  const name = captain.board.get(`pack/${bar.pack}`)?.name ?? "?";
  return [
    div({ key: `${bar.pack}-${bar.startAt}`, class: `charge-bar${bar.running ? " running" : ""}${bar.late ? " late" : ""}`, style: `left:${at(bar.startAt)}%;width:${at(bar.endAt) - at(bar.startAt)}%` }, name),
    div({ key: `${bar.pack}-${bar.startAt}-bad`, class: "charge-bad", style: `left:${at(bar.endAt)}%;width:${at(bar.badAt) - at(bar.endAt)}%` }),
  ];
}

/** @param {Captain} captain @param {ChargeBar} bar */
function barWords(captain, bar) {
  const at = (/** @type {string | undefined} */ time) => captain.ctx.clock.hhmm(time);
  const whose = bar.for ? ` for ${robotName(captain.ctx, bar.for)}${bar.neededAt ? `, needed ${at(bar.neededAt)}` : ""}` : "";
  return `${captain.board.get(`pack/${bar.pack}`)?.name ?? "?"} ${bar.running ? "since" : "from"} ${at(bar.startAt)} to ${at(bar.endAt)}, bad case ${at(bar.badAt)} · ${bar.amps} A${whose}${bar.late ? " · TOO LATE in the bad case" : ""}`;
}

/** Each pack's age by its readings, and each robot's fights. @param {Captain} captain */
function healthView(captain) {
  const { board, ctx } = captain;
  const packs = byName(board.all("pack").filter((k) => !k.retired));
  const read = packs.filter((k) => board.get(`packlog/${k.id}`));
  const fights = board.all("fightenergy").filter((e) => e.n > 0);
  return div({ class: "health" },
    h2(null, "health of packs"),
    p({ class: "hint" }, "Points of single readings with what each may be off by. No date is foretold from them: straight lines through such points have been wrong by a factor of three."),
    read.length ? read.map((k) => packHealthView(captain, k)) : p({ class: "lead" }, "No pack has been read yet."),
    h3(null, "what a fight takes"),
    fights.length
      ? fights.map((e) => p({ key: e.robot, class: "fact" }, `${robotName(ctx, e.robot)}: ${e.wh} Wh, ${e.lowWh} to ${e.highWh}, n ${e.n} · guessed before for its weight: ${e.guessLowWh} to ${e.guessHighWh} Wh`))
      : p({ class: "hint" }, "nothing learned yet: enter the Ah that went in after a fight"));
}

/** @param {Captain} captain @param {import("./wire.d.ts").Pack} pack */
function packHealthView(captain, pack) {
  const health = captain.board.get(`packhealth/${pack.id}`);
  if (!health) return null;
  const wear = { sound: "sound", worn: "WORN: not for weapons", "end-of-life": "AT ITS END by capacity or resistance" };
  return div({ class: "item", key: pack.id },
    p(null, b(null, pack.name), health.wear ? ` · ${wear[health.wear]}` : ""),
    div({ class: "plots" },
      plot("Ah it holds", health.capacity, health.ratedAh, `label ${health.ratedAh}`),
      plot("mΩ a cell at 25 °C", health.ohms, health.ohms[0]?.value, "first reading"),
      plot("V between cells", health.spread, 0.05, "warn 0.05"),
      plot("part of the label a fight took", health.share, 0.8, "0.8: too small")),
    p({ class: "hint" }, [learned("mΩ over a charge", health.chargeOhm), learned("min to cool by two thirds", health.coolMin)].join(" · ")));
}

/** @param {string} what @param {LearnedFigure} figure */
function learned(what, figure) {
  const before = figure.before ? `guessed before: ${figure.before}` : "not known before";
  return figure.n ? `${what}: ${figure.value}, n ${figure.n}, ${before}` : `${what}: ${figure.before ? `guess ${figure.before}` : "not known"}, nothing learned yet`;
}

/** Points with their bands, by order of reading, and one line to compare with. @param {string} title @param {HealthPoint[]} points @param {number | undefined} line @param {string} lineWords */
function plot(title, points, line, lineWords) {
  if (!points.length) return null;
  const highest = Math.max(...points.map((q) => q.value + (q.plusMinus ?? 0)), line ?? 0) * 1.1 || 1;
  const x = (/** @type {number} */ i) => (points.length === 1 ? 60 : 8 + (104 * i) / (points.length - 1));
  const y = (/** @type {number} */ value) => 46 - (42 * value) / highest;
  const bands = points.filter((q) => q.plusMinus).map((q) => `M${x(points.indexOf(q))} ${y(q.value - (q.plusMinus ?? 0))}V${y(q.value + (q.plusMinus ?? 0))}`).join("");
  const last = points[points.length - 1];
  return div({ class: "plot", key: title },
    p({ class: "hint" }, `${title}: ${last.value}${last.plusMinus ? ` ± ${last.plusMinus}` : ""}, n ${points.length}`),
    h("svg", /** @type {any} */ ({ viewBox: "0 0 120 50", role: "img", "aria-label": `${title}, ${points.length} readings, last ${last.value}` }),
      line ? h("path", /** @type {any} */ ({ class: "line", d: `M4 ${y(line)}H116` })) : null,
      h("path", /** @type {any} */ ({ class: "band", d: bands || "M0 0" })),
      points.map((q, i) => h("circle", /** @type {any} */ ({ key: i, cx: x(i), cy: y(q.value), r: 2.5 })))),
    line ? p({ class: "hint" }, `line: ${lineWords}`) : null);
}
