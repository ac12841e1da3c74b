// Lane: a robot's time from now to its call and past it, on an axis that all share.
// Now is at the left, the call a thick line, its P10 to P90 a bracket; jobs are bars,
// solid to the median and broken to the bad case, each with its number; what lies past
// the call is hatched. All that is worked out here is where things are drawn.

import { div, p, span } from "../core/tags.js";

/** @typedef {import("../core/wire.d.ts").Bar} Bar */
/** @typedef {import("../core/wire.d.ts").Call} Call */
/**
 * Width, font size and line height of what one steps up to read, its height, in pixels;
 * and how long it is, in milliseconds.
 * @typedef {{width: number, em: number, line: number, height: number, span: number}} Room
 */

const MINUTE = 60_000;
const SPAN_LEAST_MS = 20 * MINUTE;
const SPAN_MOST_MS = 180 * MINUTE;
/** Where on the axis the last call stands. */
const LAST_AT = 0.85;
const TICKS_MIN = [5, 10, 15, 30, 60, 120];
/** Width of a letter over the font size, in the widest of our fonts. */
const LETTER = 0.66;

/**
 * How long the axis is that these robots' lanes share.
 * @param {import("../core/ctx.d.ts").Ctx} ctx
 * @param {readonly {id: string}[]} robots
 */
export function sharedSpan({ board, clock }, robots) {
  const calls = robots.map((r) => board.get(`call/${r.id}`)).map((c) => (c?.callAt && !c.onNow ? Date.parse(c.callAt.median) : 0));
  return Math.min(SPAN_MOST_MS, Math.max(SPAN_LEAST_MS, (Math.max(...calls) - clock.now()) / LAST_AT));
}

/**
 * The hours of the shared axis. Ticks are as near as their words have room.
 * @param {import("../core/ctx.d.ts").Ctx} ctx
 * @param {Room} room
 */
export function axis({ clock }, room) {
  const now = clock.now();
  const apart = (7 * LETTER * room.em * room.span) / room.width;
  const step = (TICKS_MIN.find((min) => min * MINUTE > apart) ?? 240) * MINUTE;
  const offset = clock.offsetMin * MINUTE;
  const ticks = [];
  const last = now + room.span - apart;
  for (let t = Math.ceil((now + apart + offset) / step) * step - offset; t <= last; t += step) ticks.push(t);
  return div({ class: "axis near" },
    span({ class: "tick", style: { left: "0" } }, "now"),
    ticks.map((t) => span({ key: t, class: "tick", style: { left: per((t - now) / room.span) } }, clock.hhmm(new Date(t).toISOString()))));
}

/**
 * @param {import("../core/ctx.d.ts").Ctx} ctx
 * @param {import("../core/wire.d.ts").Robot} robot
 * @param {Call | undefined} call
 * @param {Room} room
 * @param {import("../core/tags.js").Node | null} note takes the top of it, where there is one
 * @param {number} lines how many the note takes
 */
export function lane({ board, clock }, robot, call, room, note, lines) {
  const now = clock.now();
  const due = call && call.flag !== "no-call" && !call.onNow ? call.callAt : undefined;
  const x = (/** @type {number} */ t) => Math.min(1, Math.max(0, (t - now) / room.span));
  const bars = (board.get(`lane/${robot.id}`)?.bars ?? []).filter((bar) => Date.parse(bar.badAt) > now && x(Date.parse(bar.startAt)) < 1);
  const most = Math.max(0, Math.floor(room.height / room.line - lines));
  const { rows, of, more } = stacked(bars, most, x, room);
  const line = Math.min((room.height - lines * room.line) / of, 2 * room.line);
  return div({ class: "lane" },
    due ? past(x(Date.parse(due.median))) : null,
    div({ class: "bars", style: { "--rows": of, "--row": line } },
      rows.map((at) => barView(at, of, x))),
    due ? callLine(due, x) : null,
    note,
    more && most ? p({ class: "more near" }, `+${more} more`) : null);
}

/**
 * Puts each bar in the first row that is free at its start: a bar takes the room that its
 * label does. What finds no row is counted.
 * @param {Bar[]} bars @param {number} most rows @param {(t: number) => number} x @param {Room} room
 */
function stacked(bars, most, x, room) {
  const sorted = [...bars].sort((q, r) => (q.startAt < r.startAt ? -1 : 1));
  /** @type {{bar: Bar, row: number, from: number, label: string, width: number}[]} */
  const rows = [];
  /** @type {number[]} */
  const free = [];
  let more = 0;
  for (const bar of sorted) {
    const wide = (/** @type {string} */ text) => ((text.length + (bar.late ? 2 : 0) + 1) * LETTER * room.em) / room.width;
    const least = wide(String(bar.number));
    const from = Math.min(x(Date.parse(bar.startAt)), 1 - least);
    let row = free.findIndex((f) => f <= from + 0.001);
    if (row < 0) row = free.length;
    if (row >= most) { more++; continue; }
    const next = sorted.filter((b) => b.startAt > bar.startAt).map((b) => x(Date.parse(b.startAt))).find((at) => at > from) ?? 1;
    const label = labels(bar).find((text) => from + wide(text) <= Math.max(next, x(Date.parse(bar.endAt)))) ?? String(bar.number);
    free[row] = Math.max(x(Date.parse(bar.endAt)), from + wide(label));
    rows.push({ bar, row, from, label, width: wide(label) });
  }
  return { rows, of: Math.max(1, free.length), more };
}

/** What a bar may say, the best first. @param {Bar} bar */
function labels(bar) {
  const owner = bar.state === "held" ? "hold" : (bar.who[0] ?? "");
  return [`${bar.number} ${bar.name} ${owner}`.trim(), `${bar.number} ${bar.name}`, `${bar.number} ${owner}`.trim(), String(bar.number)];
}

/** @param {number} at */
const past = (at) => div({ class: "past hatch-late", style: { left: per(at) }, "aria-hidden": "true" });

/** @param {import("../core/wire.d.ts").Spread} callAt @param {(t: number) => number} x */
function callLine(callAt, x) {
  const early = x(Date.parse(callAt.early));
  const late = x(Date.parse(callAt.late));
  return [
    div({ class: "bracket", key: "bracket", style: { left: per(early), width: per(late - early) }, "aria-hidden": "true" }),
    div({ class: "call-line", key: "line", style: { left: per(x(Date.parse(callAt.median))) }, "aria-hidden": "true" }),
  ];
}

/**
 * @param {{bar: Bar, row: number, from: number, label: string, width: number}} at
 * @param {number} of rows
 * @param {(t: number) => number} x
 */
function barView({ bar, row, from, label, width }, of, x) {
  const end = x(Date.parse(bar.endAt));
  const bad = x(Date.parse(bar.badAt));
  const along = (/** @type {number} */ a, /** @type {number} */ z) => ({
    top: per(row / of), height: per(1 / of), left: per(a), width: per(Math.max(0, z - a)),
  });
  const what = `job ${bar.number} ${bar.name}, ${bar.who.join(", ")}`;
  return [
    div({ class: "bad", key: `${bar.job} bad`, style: along(end, bad), "aria-hidden": "true" }),
    div({ class: bar.state === "running" ? "bar running" : "bar", key: bar.job, style: along(from, end), role: "img", "aria-label": what }),
    div({ class: "label near", key: `${bar.job} label`, style: along(from, from + width), "aria-hidden": "true" },
      bar.late ? span({ class: "risk-mark" }) : null, span(null, label)),
  ];
}

/** @param {number} share */
const per = (share) => `${(100 * share).toFixed(2)}%`;
