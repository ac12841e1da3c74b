// Band: one robot on the wall. Left: power state, who said so, where it is and who
// is on it. Middle: its lane, from now to the call and past it. Right: minutes to
// the call, hands-on minutes, and what is wrong in words.

import { lane } from "./lane.js";
import { b, div, left, p, section, span } from "../core/tags.js";
import { branchLine } from "../core/screen.js";
import { dots, needWords } from "../core/chance.js";
import { flagWords, handsOn, nameOf, placeOf, powerWords, tenths } from "../core/words.js";

/** @typedef {import("../core/ctx.d.ts").Ctx} Ctx */
/** @typedef {import("../core/wire.d.ts").Robot} Robot */
/** @typedef {import("../core/wire.d.ts").Call} Call */
/**
 * How many lines a band has; the wall's width, a line's font size and height, in pixels.
 * @typedef {{lines: number, width: number, em: number, line: number}} Room
 */

/** From this age on, states are UNKNOWN to this screen. */
const STALE_SEC = 20;
const MINUTE = 60_000;
/** @type {Record<import("../core/wire.d.ts").Cause["kind"], string>} */
const causeWords = { person: "a person", station: "a station", part: "part missing", clock: "no time", charge: "a charge", "": "" };
/** Width of a letter in running text over the font size. */
const LETTER = 0.58;
/** The same for a name, which is bold and half capitals; and the band's edge strip. */
const NAME_LETTER = 0.68;
const EDGE_PX = 60;
/** Widths over the font size of running text: a figure of the minutes to the call, one of the hands-on minutes, ten dots in two rows. */
const BIG_FIGURE = 1.95;
const HANDS_FIGURE = 1.31;
const DOTS_EM = 2.2;
/** What is shorter than this is kept on one line. */
const BIT_LETTERS = 13;
/** Keeps two words on one line. */
const NBSP = "\u00a0";

/** @param {Ctx} ctx @param {Robot} robot @param {Room} room */
export function band(ctx, robot, room) {
  const { board, live } = ctx;
  const call = board.get(`call/${robot.id}`);
  const people = board.all("alarm").some((a) => a.class === "A" && a.robot === robot.id);
  const doubt = live.stale >= STALE_SEC || (board.get(`power/${robot.id}`)?.state ?? "unknown") === "unknown";
  const edge = people ? "edge people" : doubt ? "edge hatch-unknown" : "edge";
  const tight = room.lines < 3;
  const laneWidth = room.width * 0.44;
  const noted = noteLines(call, room, laneWidth, !board.get(`lane/${robot.id}`)?.bars.length);
  return section({ class: "band", key: robot.id },
    div({ class: edge, "aria-hidden": "true" }),
    div({ class: "who" },
      p({ class: nameFits(robot, room) ? "name" : "name long" }, `${robot.number} ${robot.name}`),
      p({ class: "state" },
        b(null, tight && board.get(`power/${robot.id}`)?.stop ? "STOPPED" : doubt ? "UNKNOWN" : stateWord(ctx, robot.id)),
        stateRest(ctx, robot.id, doubt, room.lines, namesRoom(room)))),
    lane(ctx, robot, call, { ...room, width: laneWidth },
      note(ctx, call, tight || (room.lines === 3 && !!chanceOf(ctx, call)), noted * laneWidth / (LETTER * room.em)),
      noted),
    div({ class: "right" },
      div({ class: "figures" }, toCall(ctx, call, room.lines > 3), tight ? chanceBetween(ctx, call, room) : null, hands(call)),
      tight ? null : rightLines(ctx, call, room)));
}

/** A name that is too long at 20' is set at 16'. @param {Robot} robot @param {Room} room */
const nameFits = (robot, room) => (`${robot.number} ${robot.name}`.length + 1) * NAME_LETTER * room.em * 1.25 < room.width * 0.27 - EDGE_PX;

/**
 * How many letters of names stand under a robot's own name; its state takes a line of its own,
 * and a line is never quite full.
 * @param {Room} room
 */
const namesRoom = (room) => 0.85 * Math.max(1, room.lines - 2) * ((room.width * 0.27 - EDGE_PX) / (LETTER * room.em));

/** @param {Ctx} ctx @param {string} robot */
function stateWord({ board }, robot) {
  return powerWords[board.get(`power/${robot}`)?.state ?? "unknown"];
}

/** Tags are named first. */
const rank = { tag: 0, near: 1, job: 2 };

/**
 * Who is on it and where it is; then who said so and when.
 * @param {Ctx} ctx
 * @param {string} robot
 * @param {boolean} doubt
 * @param {number} lines
 * @param {number} letters room for names
 */
function stateRest(ctx, robot, doubt, lines, letters) {
  const tight = lines < 3;
  const { board } = ctx;
  const power = board.get(`power/${robot}`);
  const on = handsOn(ctx, robot).sort((x, y) => rank[x.by] - rank[y.by]);
  const named = on.map((h) => (h.by === "tag" ? h.name : `${h.name}${NBSP}${h.by === "near" ? "near" : "at work"}`));
  const names = namesThatFit(named, tight ? "," : ", ", tight ? Infinity : letters);
  const place = placeOf(board, power?.place);
  const said = saidBy(ctx, robot, doubt, lines > 3);
  if (tight) {
    const text = names || place;
    const fits = powerWords[power?.state ?? "unknown"].length + 1 + text.length <= letters;
    return power?.stop ? "" : fits ? ` ${text}` : on.length ? `${NBSP}+${on.length}` : "";
  }
  const glued = (/** @type {string} */ text) => text && span({ class: text.length > BIT_LETTERS ? undefined : "bit" }, text);
  const parts = power?.stop
    ? [said, glued(names), glued(place)]
    : doubt
    ? [glued(names), glued(place), said]
    : [glued(names), said, glued(place)];
  return parts.filter(Boolean).map((part, i) => [i === 0 && names ? " " : ` ·${NBSP}`, part]);
}

/** Names, those that do not fit as a count: "Ada, Ben +1". @param {string[]} names @param {string} comma @param {number} letters */
function namesThatFit(names, comma, letters) {
  const all = names.join(comma);
  if (all.length <= letters || names.length < 2) return all;
  let shown = names.length - 1;
  while (shown > 1 && names.slice(0, shown).join(comma).length + 3 > letters) shown--;
  return `${names.slice(0, shown).join(comma)}${NBSP}+${names.length - shown}`;
}

/** @param {Ctx} ctx @param {string} robot @param {boolean} doubt @param {boolean} roomy */
function saidBy({ board, clock, live }, robot, doubt, roomy) {
  const power = board.get(`power/${robot}`);
  if (!power) return "";
  if (power.stop) return b({ class: "bit" }, "STOPPED", roomy ? ` by ${nameOf(board, power.stop.by)}` : "");
  if (live.stale >= STALE_SEC) return `to this screen since ${clock.hhmm(live.heardAt)}`;
  if (doubt) return power.since ? `since${NBSP}${clock.hhmm(power.since)}` : "";
  switch (power.state) {
    case "verified":
    case "work":
    case "closing-up":
      return `${roomy ? "checked by " : ""}${nameOf(board, power.verifiedBy)}${NBSP}${clock.hhmm(power.verifiedAt)}`;
    case "ready":
      return `${roomy ? "signed by " : ""}${nameOf(board, power.readyBy)}${NBSP}${clock.hhmm(power.since)}`;
    case "test":
      return `${power.test?.what ?? ""} until ${clock.hhmm(power.test?.until)}`;
    default:
      return `by ${nameOf(board, power.by)} ${clock.hhmm(power.since)}`;
  }
}

/**
 * Minutes to the call; once it is due that, and by how much it is late.
 * @param {Ctx} ctx
 * @param {Call | undefined} call
 * @param {boolean} roomy
 */
function toCall({ clock }, call, roomy) {
  if (call?.onNow) return div({ class: "to-call words" }, "fight is on");
  if (!call?.callAt || call.flag === "no-call") return div({ class: "to-call words" }, "no call");
  if (call.callNow) {
    const late = roomy && clock.now() - Date.parse(call.callAt.median) >= MINUTE;
    return div({ class: "to-call words" }, p(null, b(null, "CALL NOW")), late ? p(null, left({ until: call.callAt.median })) : null);
  }
  return div({ class: "to-call" }, left({ until: call.callAt.median, bare: "" }));
}

/** @param {Call | undefined} call */
function hands(call) {
  if (!call || call.flag === "no-call" || call.onNow) return null;
  return div({ class: "hands" }, String(Math.max(0, Math.floor(call.handsOnSec / 60))));
}

/**
 * Under the figures: what is wrong and the chance; where one line has room, the chance: the
 * flag's words then stand in the lane.
 * @param {Ctx} ctx
 * @param {Call | undefined} call
 * @param {Room} room
 */
function rightLines(ctx, call, room) {
  const roomy = room.lines > 3;
  const chance = chanceLine(ctx, call, roomy);
  if (!roomy) return chance ?? wrong(ctx, call, "", false) ?? which(call);
  if (chance && call?.uninspected && !flagged(call)) return chance;
  return [wrong(ctx, call, fewWords(call), true) ?? which(call), chance];
}

/** @param {Ctx} ctx @param {Call | undefined} call */
const chanceOf = ({ board }, call) => (call && !call.onNow && call.flag !== "no-call" ? board.get(`chance/${call.robot}`) : undefined);

/** @param {Ctx} ctx @param {Call | undefined} call @param {boolean} roomy */
function chanceLine(ctx, call, roomy) {
  const known = chanceOf(ctx, call);
  if (!known) return null;
  if (known.uninspected || known.ready === undefined) {
    return p({ key: "chance", class: "note plain chance-line" },
      `${roomy && call && !flagged(call) ? "not inspected: " : ""}${needWords(known)} to find`);
  }
  return p({ key: "chance", class: "note chance-line" }, span({ class: "of-ten" }, tenths(known.ready)), " ", dots(known.ready));
}

/**
 * Where the figures are all there is room for, the chance stands between them: in dots, and
 * before them the number of ten, as far as they fit; not under 10 minutes, nor from 100 on.
 * @param {Ctx} ctx
 * @param {Call | undefined} call
 * @param {Room} room
 */
function chanceBetween(ctx, call, room) {
  const ready = chanceOf(ctx, call)?.ready;
  if (!call?.callAt || call.callNow || ready === undefined) return null;
  const minutes = String(Math.floor((Date.parse(call.callAt.median) - ctx.clock.now()) / MINUTE));
  const handsOn = String(Math.floor(call.handsOnSec / 60));
  const figures = BIG_FIGURE * (Number(minutes) < 10 ? 3.4 : minutes.length) + HANDS_FIGURE * handsOn.length;
  const free = (room.width * 0.29) / room.em - figures - 0.8;
  const n = ready <= 0 ? "<1" : ready >= 10 ? ">9" : String(ready);
  if (free < DOTS_EM) return null;
  return div({ class: "between", role: "img", "aria-label": tenths(ready) },
    free < DOTS_EM + 0.7 * n.length ? null : span({ class: "of-ten" }, n),
    dots(ready));
}

/** A cause in few words: of which kind it is, and of which job where that fits. @param {Call | undefined} call @param {number} [letters] */
function fewWords(call, letters = Infinity) {
  if (!call) return "";
  const kind = causeWords[call.cause.kind];
  const long = call.cause.job ? `${kind}, job ${call.cause.job}` : kind;
  return long.length + flagWords[call.flag].length + 5 < letters ? long : kind;
}

/** @param {Call} call */
const flagged = (call) => !call.onNow && (call.flag === "tight" || call.flag === "wont-finish");

/**
 * What is wrong, in words, and of which kind its one cause is.
 * @param {Ctx} ctx
 * @param {Call | undefined} call
 * @param {string} cause
 * @param {boolean} roomy
 */
function wrong({ live, board, clock }, call, cause, roomy) {
  const asOf = roomy && live.stale >= STALE_SEC ? ` as of ${clock.hhmm(board.forecastAt)}` : "";
  if (!call) return null;
  if (flagged(call)) {
    return p({ class: "note class-b" },
      span({ class: "risk-mark", "aria-hidden": "true" }), " ", b(null, flagWords[call.flag]), cause && `: ${cause}`, asOf);
  }
  return call.uninspected && !call.onNow && call.flag !== "no-call" ? p({ class: "note plain" }, `not inspected${asOf}`) : null;
}

/**
 * What stands in the lane: where the right has no room for it, the flag with its cause, of
 * which kind it is where its words do not fit; else the cause.
 * @param {Ctx} ctx
 * @param {Call | undefined} call
 * @param {boolean} tight
 * @param {number} letters of a line
 */
function note(ctx, call, tight, letters) {
  if (!tight) return call && flagged(call) && call.cause.text ? p({ class: "note plain" }, call.cause.text) : null;
  const branches = call?.onNow ? branchLine(call) : [];
  if (branches.length) return p({ class: "note plain" }, "call ", branches);
  const fits = call && call.cause.text.length + flagWords[call.flag].length + 5 < letters;
  return wrong(ctx, call, call ? (fits ? call.cause.text : fewWords(call, letters)) : "", true);
}

/**
 * How many lines the note takes: two, or three where there are many, one where there are few
 * and jobs under it.
 * @param {Call | undefined} call
 * @param {Room} room
 * @param {number} width
 * @param {boolean} free no job is drawn
 */
function noteLines(call, room, width, free) {
  const most = room.lines > 6 ? 3 : (room.lines > 3 || free) && room.lines > 2 ? 2 : 1;
  return Math.max(1, Math.min(most, Math.ceil(((call?.cause.text.length ?? 0) * LETTER * room.em) / width)));
}

/** Which fight it is; while it is on, the calls that may follow it. @param {Call | undefined} call */
function which(call) {
  if (!call?.number) return null;
  const branches = call.onNow ? branchLine(call) : [];
  if (branches.length) return p({ class: "note plain more" }, "call ", branches);
  return p({ class: call.callAt && call.flag !== "no-call" ? "note plain" : "note plain more" },
    `${call.arena} ${call.number}${call.if ? `, if ${call.if}` : ""}`);
}
