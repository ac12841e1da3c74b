// Band: one robot on the wall. Left: power state, who said so, where it is and who
// is on it. Middle: its lane, from now to the call and past it. Right: minutes to
// the call, hands-on minutes, and what is wrong in words.

import { lane } from "./lane.js";
import { wholeMinutes } from "../core/clock.js";
import { b, div, left, p, section, span } from "../core/tags.js";
import { branchLine } from "../core/screen.js";
import { dots, needWords } from "../core/chance.js";
import { chanceWords, flagWords, handsOn, nameOf, placeOf, powerWords } from "../core/words.js";

/** @typedef {import("../core/ctx.d.ts").Ctx} Ctx */
/** @typedef {import("../core/wire.d.ts").Robot} Robot */
/** @typedef {import("../core/wire.d.ts").Call} Call */
/**
 * How many lines a band has; the wall's width, a line's font size and height, in pixels;
 * the milliseconds that a lane is long; whether so few robots stand there that no name folds;
 * the shares of who is in it and of its lane.
 * @typedef {{lines: number, width: number, em: number, line: number, span: number, few: boolean, who: number, lane: number}} Room
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
export const EDGE_PX = 60;
/** Under this the minutes to the call stand on ink. */
const SOON_MS = 5 * MINUTE;
/** What one steps up to read is so much of what is read from afar. */
export const NEAR = 10 / 16;
/** The lines that a name at 20' takes. */
const NAME_LINES = 1.25;
/** Shares of the wall's width for who is in it and for its lane; none where that leaves too few letters for a name. */
const SHARES = { who: 0.31, lane: 0.4 };
const NARROW_SHARES = { who: 0.5, lane: 0 };
const NAME_LETTERS = 11;

/** How a wall of this width is shared out. @param {number} width @param {number} em */
export const shares = (width, em) =>
  ((width * SHARES.who - EDGE_PX) / (NAME_LETTER * em) < NAME_LETTERS ? NARROW_SHARES : SHARES);
/** Widths over the font size of running text: a figure of the minutes to the call, one of the hands-on minutes, ten dots in two rows. */
const BIG_FIGURE = 1.95;
const HANDS_FIGURE = 1.31;
const DOTS_EM = 2.2;
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
  const near = { em: room.em * NEAR, line: room.line * NEAR, width: room.width * room.lane };
  const most = room.lines > 5 ? 5 : 2;
  const damage = undecided(ctx, robot.id);
  const said = (/** @type {string} */ cause) => [which(call), call && flagged(call) ? cause : "", damage].filter(Boolean).join(" · ");
  const noteRows = (/** @type {string} */ text) => rowsOf(text, near.width / (NAME_LETTER * near.em));
  const sentences = call?.cause.text.split(". ") ?? [];
  const causes = sentences.map((_, i) => sentences.slice(0, sentences.length - i).join(". "));
  const words = tight
    ? ""
    : call ? [...causes.map(said), said(fewWords(call))].find((text) => noteRows(text) <= most) ?? said("") : damage;
  const noted = tight ? 1 / NEAR : Math.min(most, noteRows(words));
  return section({ class: "band", key: robot.id },
    div({ class: edge, "aria-hidden": "true" }),
    whoView(ctx, robot, doubt, room),
    room.lane === 0 ? null : lane(ctx, robot, call, { ...near, height: room.lines * room.line, span: room.span },
      tight
        ? note(call, room.width * room.lane / (NAME_LETTER * room.em))
        : words ? p({ class: "note near" }, words, onNowCalls(call)) : null,
      words || tight ? noted : 0),
    rightView(ctx, call, room));
}

/**
 * The robot, its state and who is in it; then who said so and where it is.
 * @param {Ctx} ctx
 * @param {Robot} robot
 * @param {boolean} doubt
 * @param {Room} room
 */
function whoView(ctx, robot, doubt, room) {
  const power = ctx.board.get(`power/${robot.id}`);
  const tight = room.lines < 3;
  const state = power?.stop ? "STOPPED" : doubt ? powerWords.unknown : powerWords[power?.state ?? "unknown"];
  const names = stateRest(ctx, robot.id, doubt, room);
  const rows = rowsOf(state + names, (room.width * room.who - EDGE_PX) / (NAME_LETTER * room.em));
  const small = !tight && room.few && rows + 1 > room.lines;
  const more = [saidBy(ctx, robot.id, doubt), placeOf(ctx.board, power?.place)].filter(Boolean);
  const nearLetters = (room.width * room.who - EDGE_PX) / (NAME_LETTER * NEAR * room.em);
  while (more.length && rows + NAME_LINES + NEAR * rowsOf(more.join(" · "), nearLetters) > room.lines) more.pop();
  return div({ class: "who" },
    p({ class: nameFits(robot, room) && rows + NAME_LINES <= room.lines ? "name" : "name long" }, `${robot.number} ${robot.name}`),
    p({ class: "state" }, b(null, state), small ? null : names),
    small ? p({ class: "in near" }, names.trim()) : null,
    tight || !more.length ? null : p({ class: "near" }, more.map((part, i) => [i ? " · " : "", part])));
}

/** Minutes to the call, what is wrong, and the chance. @param {Ctx} ctx @param {Call | undefined} call @param {Room} room */
function rightView(ctx, call, room) {
  const due = toCallMs(ctx, call);
  if (call?.callNow && !call.onNow) {
    return div({ class: "right now", style: { "--fill": fill(room, due < -MINUTE) } }, toCall(ctx, call));
  }
  return div({ class: due < SOON_MS ? "right soon" : "right" },
    div({ class: "figures" },
      toCall(ctx, call),
      room.lines < 4 ? chanceBetween(ctx, call, room) : null,
      room.lane === 0 ? null : hands(call)),
    room.lines < 3 ? null : room.lines < 4 ? wrong(call, "") : rightLines(ctx, call));
}

/** Damage that has to be put right and has no job. @param {Ctx} ctx @param {string} robot */
function undecided({ board }, robot) {
  const list = (board.get(`strip/${robot}`)?.damage ?? []).filter((d) => d.asks === "job");
  return list.length > 1 ? `${list.length} broken things have no job` : list.map((d) => `damage ${d.says}`).join("");
}

/** The calls that may follow a fight that is on. @param {Call | undefined} call */
const onNowCalls = (call) => (call?.onNow && call.branches.some((x) => x.callAt) ? [" · call ", branchLine(call)] : null);

/** Under the figures: what is wrong, and the chance. @param {Ctx} ctx @param {Call | undefined} call */
function rightLines(ctx, call) {
  const chance = chanceLine(ctx, call);
  return chance && call && !flagged(call) ? chance : [wrong(call, ""), chance];
}

/** How long it is to the call. @param {Ctx} ctx @param {Call | undefined} call */
const toCallMs = ({ clock }, call) =>
  (call?.callAt && !call.onNow && call.flag !== "no-call" ? Date.parse(call.callAt.median) - clock.now() : Infinity);

/** How many rows words take, which break between them alone. @param {string} text @param {number} letters of a row */
function rowsOf(text, letters) {
  let [rows, used] = [1, 0];
  for (const { length } of text.split(" ")) {
    if (used && used + 1 + length > letters) [rows, used] = [rows + 1, 0];
    used += (used ? 1 : 0) + length;
  }
  return rows;
}

/** The size at which CALL NOW fills its cell, in one line or two. @param {Room} room @param {boolean} late */
function fill(room, late) {
  const [wide, high] = [room.width * (1 - room.who - room.lane) * 0.92, (room.lines - (late ? NEAR : 0)) * room.line];
  return room.lines < 3 ? Math.min(wide / 6.2, high * 0.9) : Math.min(wide / 3.1, high * 0.46);
}

/** A name that is too long at 20' is set at 16'. @param {Robot} robot @param {Room} room */
const nameFits = ({ number, name }, room) =>
  (`${number} ${name}`.length + 1) * NAME_LETTER * room.em * 1.25 < room.width * room.who - EDGE_PX;

/**
 * How many letters of names stand under a robot's own name; its state takes a line of its own,
 * and a line is never quite full.
 * @param {Room} room
 */
const namesRoom = (room) => 0.85 * Math.max(1, room.lines - 2) * ((room.width * room.who - EDGE_PX) / (LETTER * room.em));

/** Tags are named first. */
const rank = { tag: 0, near: 1, job: 2 };

/**
 * Who is in it: all of them where few robots stand there, small where they are many.
 * @param {Ctx} ctx
 * @param {string} robot
 * @param {boolean} doubt
 * @param {Room} room
 */
function stateRest(ctx, robot, doubt, room) {
  const power = ctx.board.get(`power/${robot}`);
  const on = handsOn(ctx, robot).sort((x, y) => rank[x.by] - rank[y.by]);
  const named = on.map((h) => (h.by === "tag" ? h.name : `${h.name}${NBSP}${h.by === "near" ? "near" : "at work"}`));
  const letters = namesRoom(room);
  if (room.lines < 3) {
    const names = named.join(",");
    const fits = (doubt ? powerWords.unknown : powerWords[power?.state ?? "unknown"]).length + 1 + names.length <= letters;
    return power?.stop ? "" : fits ? ` ${names}` : on.length ? `${NBSP}+${on.length}` : "";
  }
  if (!on.length) return "";
  const all = named.join(", ");
  return ` IN:${NBSP}${room.few ? all : namesThatFit(named, ", ", letters - 4)}`;
}

/** Names, those that do not fit as a count: "Ada, Ben +1". @param {string[]} names @param {string} comma @param {number} letters */
function namesThatFit(names, comma, letters) {
  const all = names.join(comma);
  if (all.length <= letters || names.length < 2) return all;
  let shown = names.length - 1;
  while (shown > 1 && names.slice(0, shown).join(comma).length + 3 > letters) shown--;
  return `${names.slice(0, shown).join(comma)}${NBSP}+${names.length - shown}`;
}

/** @param {Ctx} ctx @param {string} robot @param {boolean} doubt */
function saidBy({ board, clock, live }, robot, doubt) {
  const power = board.get(`power/${robot}`);
  if (!power) return "";
  if (power.stop) return b({ class: "bit" }, `STOPPED by ${nameOf(board, power.stop.by)}`);
  if (live.stale >= STALE_SEC) return `to this screen since ${clock.hhmm(live.heardAt)}`;
  if (doubt) return power.since ? `since${NBSP}${clock.hhmm(power.since)}` : "";
  switch (power.state) {
    case "verified":
    case "work":
    case "closing-up":
      return `checked by ${nameOf(board, power.verifiedBy)}${NBSP}${clock.hhmm(power.verifiedAt)}`;
    case "ready":
      return `signed by ${nameOf(board, power.readyBy)}${NBSP}${clock.hhmm(power.since)}`;
    case "test":
      return `${power.test?.what ?? ""} until ${clock.hhmm(power.test?.until)}`;
    default:
      return `by ${nameOf(board, power.by)} ${clock.hhmm(power.since)}`;
  }
}

/** Minutes to the call; once it is due that, and by how much it is late. @param {Ctx} ctx @param {Call | undefined} call */
function toCall({ clock }, call) {
  if (call?.onNow) return div({ class: "to-call words" }, "fight is on");
  if (!call?.callAt || call.flag === "no-call") return div({ class: "to-call words" }, "no call");
  if (call.callNow) {
    const late = clock.now() - Date.parse(call.callAt.median) > MINUTE;
    return div({ class: "call-now" }, b(null, "CALL NOW"), late ? span({ class: "near" }, left({ until: call.callAt.median })) : null);
  }
  return div({ class: "to-call" }, left({ until: call.callAt.median, bare: "" }));
}

/** @param {Call | undefined} call */
function hands(call) {
  if (!call || call.flag === "no-call" || call.onNow) return null;
  return div({ class: "hands" }, String(Math.max(0, wholeMinutes(call.handsOnSec, "left"))));
}

/** @param {Ctx} ctx @param {Call | undefined} call */
const chanceOf = ({ board }, call) => (call && !call.onNow && call.flag !== "no-call" ? board.get(`chance/${call.robot}`) : undefined);

/** @param {Ctx} ctx @param {Call | undefined} call */
function chanceLine(ctx, call) {
  const known = chanceOf(ctx, call);
  if (!known) return null;
  if (known.uninspected || known.ready === undefined) {
    return p({ key: "chance", class: "note plain chance-line" },
      `not inspected: ${needWords(known)} to find`);
  }
  return p({ key: "chance", class: "note near chance-line" }, span({ class: "of-ten" }, chanceWords(known.ready)), " ", dots(known.ready));
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
  const minutes = String(wholeMinutes((Date.parse(call.callAt.median) - ctx.clock.now()) / 1000, "left"));
  const handsOn = String(wholeMinutes(call.handsOnSec, "left"));
  const figures = BIG_FIGURE * (Number(minutes) < 10 ? 3.4 : minutes.length) + HANDS_FIGURE * handsOn.length;
  const free = (room.width * (1 - room.who - room.lane)) / room.em - figures - 0.8;
  const n = ready <= 0 ? "<1" : ready >= 10 ? ">9" : String(ready);
  if (free < DOTS_EM) return null;
  return div({ class: "between", role: "img", "aria-label": chanceWords(ready) },
    free < DOTS_EM + 0.7 * n.length ? null : span({ class: "of-ten" }, n),
    dots(ready));
}

/** A cause in few words: of which kind it is, and of which job where that fits. @param {Call | undefined} call @param {number} [letters] */
function fewWords(call, letters = Infinity) {
  if (!call) return "";
  const kind = causeWords[call.cause.kind];
  const long = call.cause.job ? `${kind}, job ${call.cause.job}` : kind;
  return [long, kind].find((words) => words.length + flagWords[call.flag].length + 5 < letters) ?? "";
}

/** @param {Call} call */
const flagged = (call) => !call.onNow && (call.flag === "tight" || call.flag === "wont-finish");

/**
 * What is wrong, in words, and of which kind its one cause is.
 * @param {Call | undefined} call
 * @param {string} cause
 */
function wrong(call, cause) {
  if (!call) return null;
  if (flagged(call)) {
    return p({ class: "note class-b" },
      span({ class: "risk-mark", "aria-hidden": "true" }), " ", b(null, flagWords[call.flag]), cause && `: ${cause}`);
  }
  return call.uninspected && !call.onNow && call.flag !== "no-call" ? p({ class: "note plain" }, "not inspected") : null;
}

/**
 * What stands in the lane where the right has no room for it: the flag with its cause, of
 * which kind it is where its words do not fit.
 * @param {Call | undefined} call
 * @param {number} letters of a line
 */
function note(call, letters) {
  const branches = call?.onNow ? branchLine(call) : [];
  if (branches.length) return p({ class: "note plain" }, "call ", branches);
  const fits = call && call.cause.text.length + flagWords[call.flag].length + 5 < letters;
  return wrong(call, call ? (fits ? call.cause.text : fewWords(call, letters)) : "");
}

/** Which fight it is, and against whom; while it is on, that calls may follow it stands beside. @param {Call | undefined} call */
const which = (call) => (call?.number
  ? `${call.arena} ${call.number}${call.opponent ? ` v ${call.opponent}` : ""}${call.if ? `, if ${call.if}` : ""}`
  : "");
