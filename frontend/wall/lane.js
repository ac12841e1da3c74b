// Lane: a robot's time from now to its call and past it. Now is at the left, the
// call a thick line at 72 % of the width, its P10 to P90 a bracket; jobs are bars,
// solid to the median and broken to the bad case; what lies past the call is
// hatched. All that is worked out here is where things are drawn.

import { div, span } from "../core/tags.js";

/** @typedef {import("../core/wire.d.ts").Bar} Bar */
/** @typedef {import("../core/wire.d.ts").Call} Call */
/**
 * How many lines fit; width, font size and line height in pixels.
 * @typedef {{lines: number, width: number, em: number, line: number}} Room
 */

const CALL_AT = 0.72;
/** Nearer than this the line moves to the left instead of the scale growing on. */
const SPAN_LEAST_MS = 5 * 60_000;
const SPAN_WITHOUT_CALL_MS = 60 * 60_000;
/** Width of a letter over the font size, in the widest of our fonts. */
const LETTER = 0.72;

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
  const callAt = due ? Date.parse(due.median) : 0;
  const span = due ? Math.max(callAt - now, SPAN_LEAST_MS) / CALL_AT : SPAN_WITHOUT_CALL_MS;
  const x = (/** @type {number} */ t) => Math.min(1, Math.max(0, (t - now) / span));
  const bars = (board.get(`lane/${robot.id}`)?.bars ?? []).filter((bar) => Date.parse(bar.badAt) > now && x(Date.parse(bar.startAt)) < 1);
  const { rows, of } = stacked(bars);
  const noteLines = note ? lines : 0;
  const height = Math.min((room.lines - noteLines) / of, 2) * room.line;
  return div({ class: `lane noted-${noteLines}` },
    due ? past(x(callAt)) : null,
    div({ class: "bars", style: { "--rows": of, "--row": height } },
      rows.map(({ bar, row, until }) =>
        barView(bar, { top: row / of, height: 1 / of, until, lines: Math.floor(height / room.line), x, room }))),
    due ? line(due, x) : null,
    note);
}

/** Puts each bar in the first row that is free at its start; until is where the next one there begins. @param {Bar[]} bars */
function stacked(bars) {
  /** @type {{bar: Bar, row: number, until: string}[]} */
  const rows = [];
  /** @type {{until: string, last: number}[]} */
  const free = [];
  for (const bar of [...bars].sort((p, q) => (p.startAt < q.startAt ? -1 : 1))) {
    let row = free.findIndex((f) => f.until <= bar.startAt);
    if (row < 0) row = free.length;
    else rows[free[row].last].until = bar.startAt;
    free[row] = { until: bar.endAt, last: rows.length };
    rows.push({ bar, row, until: bar.badAt });
  }
  return { rows, of: Math.max(1, free.length) };
}

/** @param {number} at */
const past = (at) => div({ class: "past hatch-late", style: { left: per(at) }, "aria-hidden": "true" });

/** @param {import("../core/wire.d.ts").Spread} callAt @param {(t: number) => number} x */
function line(callAt, x) {
  const early = x(Date.parse(callAt.early));
  const late = x(Date.parse(callAt.late));
  return [
    div({ class: "bracket", key: "bracket", style: { left: per(early), width: per(late - early) }, "aria-hidden": "true" }),
    div({ class: "call-line", key: "line", style: { left: per(x(Date.parse(callAt.median))) }, "aria-hidden": "true" }),
  ];
}

/**
 * @param {Bar} bar
 * @param {object} at
 * @param {number} at.top
 * @param {number} at.height
 * @param {string} at.until where its label must end
 * @param {number} at.lines how many of text it holds
 * @param {(t: number) => number} at.x
 * @param {Room} at.room
 */
function barView(bar, { top, height, until, lines, x, room }) {
  const from = x(Date.parse(bar.startAt));
  const end = x(Date.parse(bar.endAt));
  const bad = x(Date.parse(bar.badAt));
  const stop = Math.min(bad, x(Date.parse(until)));
  const along = (/** @type {number} */ a, /** @type {number} */ z) => ({
    top: per(top), height: per(height), left: per(a), width: per(z - a),
  });
  const label = lines > 0 ? fitting(bar, lines, (stop - from) * room.width, room.em) : "";
  const what = `job ${bar.number} ${bar.name}, ${(bar.who).join(", ")}`;
  return [
    div({ class: "bad", key: `${bar.job} bad`, style: along(end, bad), "aria-hidden": "true" }),
    div({ class: bar.state === "running" ? "bar running" : "bar", key: bar.job, style: along(from, end), role: "img", "aria-label": what }),
    label ? div({ class: "label", key: `${bar.job} label`, style: along(from, stop), "aria-hidden": "true" },
      bar.late ? span({ class: "risk-mark" }) : null, span(null, label)) : null,
  ];
}

/**
 * Number and owner, with the job's name under them where there is room; or the number; or
 * nothing.
 * @param {Bar} bar
 * @param {number} lines
 * @param {number} width
 * @param {number} em
 */
function fitting(bar, lines, width, em) {
  const room = width / (LETTER * em) - (bar.late ? 2 : 0.7);
  const owner = bar.state === "held" ? "hold" : (bar.who[0] ?? "");
  const full = `${bar.number} ${owner}`.trim();
  if (full.length <= room) return lines > 1 && bar.name.length <= room ? `${full}\n${bar.name}` : full;
  if (String(bar.number).length > room) return "";
  return lines > 1 && owner.length <= room ? `${bar.number}\n${owner}` : String(bar.number);
}

/** @param {number} share */
const per = (share) => `${(100 * share).toFixed(2)}%`;
