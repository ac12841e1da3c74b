// Captain, charging: each channel as a line of time, each circuit's load under what may
// be drawn.

import { b, div, h, h2, h3, p, span, tap } from "../core/tags.js";
import { byName, robotName, sawOf } from "../core/screen.js";
import { fightPacksView } from "../pack/fightpacks.js";
import { healthView } from "./health.js";

/** @typedef {import("./captain.js").Captain} Captain */
/** @typedef {import("../core/wire.d.ts").ChargeBar} ChargeBar */

/** How much of the future a line of time shows. */
const HOURS = 3;
/** A bar that is less of the line's width has no room for its pack's name. */
const NAME_PERCENT = 5;
const ms = (/** @type {string | undefined} */ time) => (time ? Date.parse(time) : 0);

/** The charging board. @param {Captain} captain */
export function chargeView(captain) {
  const { board, ctx } = captain;
  const channels = byName(board.all("channel").filter((c) => !c.retired));
  const from = Math.floor(ctx.clock.now() / 60000) * 60000;
  const circuits = byName(board.all("circuit").filter((k) => !k.retired));
  const loose = channels.filter((c) => !circuits.some((k) => k.id === c.circuit));
  return div({ class: "charge-board" },
    h2(null, "packs for our fights"),
    fightPacksView(ctx),
    h2(null, "charging"),
    channels.length ? null : p({ class: "lead" }, "No charger is on the board. Enter one under chargers."),
    circuits.map((k) => circuitView(captain, k, channels.filter((c) => c.circuit === k.id), from)),
    loose.length ? axis(captain, from) : null,
    loose.map((c) => channelView(captain, c, from)),
    p({ class: "hint" },
      "These are forecasts: only a reading makes a pack charged. No plan and no clock changes a limit: where time is short, " +
        "take another pack, another channel or another current within its limits. Circuits, " +
        "leads and generators are for the venue or an electrician to decide; the figures are what someone entered."),
    healthView(captain));
}

/**
 * A circuit with its channels: the load line, and its switch.
 * @param {Captain} captain
 * @param {import("../core/wire.d.ts").Circuit} k
 * @param {import("../core/wire.d.ts").Channel[]} channels
 * @param {number} from
 */
function circuitView(captain, k, channels, from) {
  const view = captain.board.get(`circuitview/${k.id}`);
  const off = Boolean(k.offAt);
  return div({ class: "circuit", key: k.id },
    h3(null,
      k.name,
      off
        ? span({ class: "class-a" }, ` OFF since ${captain.ctx.clock.hhmm(k.offAt)}`)
        : ` · ${view?.budgetVA ?? "?"} VA for chargers, by ${k.saidBy}`),
    view?.over ? p({ class: "fact class-a" }, "OVER what was entered for this circuit: stop a charge, or start it later") : null,
    view && !off ? loadLine(view, from) : null,
    axis(captain, from),
    channels.map((c) => channelView(captain, c, from)),
    off
      ? tap({ words: `${k.name} is on again`, act: () => captain.open({
          title: `${k.name} is on again`, do: "circuit.on", from: { saidBy: "" }, also: { circuit: k.id },
          seen: sawOf(captain.ctx, `circuit/${k.id}`),
          fields: [{ name: "saidBy", label: "who answers for the wiring and said why", type: "text" }],
          says: `${k.name} is on again`, save: "it is on again", warns: "Stopped charges stay unknown until somebody looks.",
        }) })
      : tap({
        words: `${k.name} has no power`,
        act: () => captain.acts.ask({ do: "circuit.off", with: { circuit: k.id }, says: `${k.name} has no power` }),
      }));
}

/** The hours that the lines of time below span. @param {Captain} captain @param {number} from */
function axis(captain, from) {
  const marks = Array.from({ length: 2 * HOURS }, (_, i) => from + i * 1800_000);
  return div({ class: "charge-axis", "aria-hidden": "true" }, marks.map((at, i) =>
    span({ key: at, style: `left:${(100 * i) / marks.length}%` }, i ? captain.ctx.clock.hhmm(new Date(at).toISOString()) : "now")));
}

/**
 * The draw of the charges as steps under the line of what may be drawn.
 * @param {import("../core/wire.d.ts").CircuitView} view
 * @param {number} from
 */
function loadLine(view, from) {
  const top = Math.max(view.budgetVA, ...view.load.map((s) => s.va), 1) * 1.1;
  const x = (/** @type {number} */ at) => Math.min(Math.max((at - from) / (HOURS * 36000), 0), 100);
  const y = (/** @type {number} */ va) => 40 - (40 * va) / top;
  const steps = view.load.map((s) => `H${x(ms(s.at)).toFixed(2)}V${y(s.va).toFixed(2)}`).join("");
  const most = Math.max(0, ...view.load.map((s) => s.va));
  return div({ class: "load" },
    h("svg", /** @type {any} */ ({
      viewBox: "0 0 100 40", preserveAspectRatio: "none", role: "img", "aria-label": `charges draw at most ${most} of ${view.budgetVA} VA`,
    }),
      h("path", /** @type {any} */ ({ class: "draw", d: `M0 40V${y(0)}${steps}H100V40Z` })),
      h("path", /** @type {any} */ ({ class: "budget", d: `M0 ${y(view.budgetVA)}H100` }))),
    p({ class: "hint" }, `charges draw at most ${most} VA of ${view.budgetVA}`));
}

/** @param {Captain} captain @param {import("../core/wire.d.ts").Channel} c @param {number} from */
function channelView(captain, c, from) {
  const bars = captain.board.get(`channelview/${c.id}`)?.bars ?? [];
  return div({ class: "channel", key: c.id },
    b(null, c.name), span({ class: "hint" }, ` ${c.charger} · ${c.ampsMost} A · ${c.wattsMost} W`),
    bars.length
      ? div({ class: "channel-line" }, bars.map((bar) => barView(captain, bar, from)))
      : p({ class: "hint" }, "nothing on it, nothing planned"),
    bars.map((bar) => p({ key: `${bar.pack}-${bar.startAt}`, class: bar.late ? "fact class-b" : "fact" }, barWords(captain, bar))));
}

/** @param {Captain} captain @param {ChargeBar} bar @param {number} from */
function barView(captain, bar, from) {
  const at = (/** @type {string} */ time) => Math.min(Math.max((ms(time) - from) / (HOURS * 36000), 0), 100);
  const name = at(bar.endAt) - at(bar.startAt) < NAME_PERCENT ? "" : captain.board.get(`pack/${bar.pack}`)?.name ?? "?";
  return [
    div({
      key: `${bar.pack}-${bar.startAt}`, class: `charge-bar${bar.running ? " running" : ""}${bar.late ? " late" : ""}`,
      style: `left:${at(bar.startAt)}%;width:${at(bar.endAt) - at(bar.startAt)}%`,
    }, name),
    div({
      key: `${bar.pack}-${bar.startAt}-bad`, class: "charge-bad", style: `left:${at(bar.endAt)}%;width:${at(bar.badAt) - at(bar.endAt)}%`,
    }),
  ];
}

/** @param {Captain} captain @param {ChargeBar} bar */
function barWords(captain, bar) {
  const at = (/** @type {string | undefined} */ time) => captain.ctx.clock.hhmm(time);
  const whose = bar.for ? ` for ${robotName(captain.ctx, bar.for)}${bar.neededAt ? `, needed ${at(bar.neededAt)}` : ""}` : "";
  return `${captain.board.get(`pack/${bar.pack}`)?.name ?? "?"} ${bar.running ? "since" : "from"} ${at(bar.startAt)} to ` +
    `${at(bar.endAt)}, bad case ${at(bar.badAt)} · ${bar.amps} A${whose}${bar.late ? " · TOO LATE in the bad case" : ""}`;
}
