// Screen: what the phone's and the captain's screens share: redrawing, the head
// with the robot's name and number, what stands about a robot, the alarms.

import { age, b, div, h1, header, left, p, render, span, tap } from "./tags.js";
import { count, flagWords, ifWords, nameOf, onItLine, powerLine } from "./words.js";

/** @typedef {import("./ctx.d.ts").Ctx} Ctx */
/** @typedef {import("./wire.d.ts").Flag} Flag */
/** @typedef {import("./wire.d.ts").Alarm} Alarm */
/** @typedef {import("./tags.js").Children} Children */

/**
 * Draws view into root, again after every change of the board or the connection,
 * and whenever redraw is called.
 * @param {HTMLElement} root
 * @param {Ctx} ctx
 * @param {() => import("preact").ComponentChild} view
 */
export function screen(root, ctx, view) {
  let on = true;
  const redraw = () => {
    if (on) render(view(), root);
  };
  const ends = [ctx.board.subscribe(redraw), ctx.live.onStatus(redraw)];
  return {
    redraw,
    end() {
      on = false;
      for (const end of ends) end();
      render(null, root);
    },
  };
}

/** A robot as it is shouted: "Robot 1, Hob". @param {Ctx} ctx @param {string} id */
export function robotName(ctx, id) {
  const robot = ctx.board.get(`robot/${id}`);
  return robot ? `${robot.number} ${robot.name}` : "a robot";
}

/** The flag of a robot or a job: a triangle and its words. @param {Flag | undefined} flag */
export function flagView(flag) {
  if (!flag || flag === "none") return null;
  if (flag === "no-call") return span({ class: "flag quiet" }, flagWords[flag]);
  return span({ class: "flag class-b" }, span({ class: "risk-mark", "aria-hidden": "true" })," ", flagWords[flag]);
}

/**
 * The head of a phone screen: the way back, robot, minutes to the call, flag, age of
 * the board, and the way to raise an emergency. A page may have its own title there.
 * @param {Ctx} ctx
 * @param {string | undefined} id
 * @param {string} [title]
 */
export function robotHead(ctx, id, title) {
  const call = id ? ctx.board.get(`call/${id}`) : undefined;
  return header(
    { class: "robot-head" },
    ["", "#/", "#/me"].includes(location.hash)
      ? null
      : tap({ key: "back", class: "back", words: "‹", label: "‹ my next move", act: () => ctx.go("#/me") }),
    div({ class: "robot-said" },
      div({ class: "robot-name" }, title ? h1(null, title) : b(null, id ? robotName(ctx, id) : "Mendline"), age({ bare: "" })),
      div({ class: "robot-call" }, call ? callView(call) : null, call ? flagView(call.flag) : null)),
    location.hash.startsWith("#/me/words") ? null : tap({
      key: "help", class: "help", words: "?", label: "? help", act: () => ctx.go(`#/me/words/${helpAbout()}`),
    }),
    ctx.live.me?.person
      ? tap({
        key: "raise", class: "raise", words: "RAISE ALARM", label: "RAISE ALARM: emergency",
        act: () => ctx.go(`#/me/emergency/${aboutRobot() ? id ?? "" : ""}`),
      })
      : null,
  );
}

/** Which screen help is asked for: the phone's page, or the screen. */
function helpAbout() {
  const [screen = "", page = ""] = location.hash.slice(2).split("/");
  return screen === "me" ? page : screen;
}

/** The person has opened a robot's own screen; my next move is about one that the board chose. */
const aboutRobot = () => /^#\/(robot|sheet|damage)\//.test(location.hash);

/** What is relaxed for a robot or, without one, for any. @param {Ctx} ctx @param {string | undefined} id */
export function relaxedFor(ctx, id) {
  const others = id ? robots(ctx).filter((r) => r.id !== id).map((r) => `${r.name}:`) : [];
  return relaxed(ctx).filter((sentence) => !others.some((name) => sentence.startsWith(name)));
}

/** How much is relaxed. @param {Ctx} ctx @param {string | undefined} id */
export function relaxedLine(ctx, id) {
  const list = relaxedFor(ctx, id);
  return list.length ? p({ key: "relaxed", class: "fact" }, `${count(list.length, "rule")} relaxed`) : null;
}

/** The settings that ask for less than the board would, in sentences. @param {Ctx} ctx */
export const relaxed = (ctx) => ctx.board.get("relaxed/event")?.list ?? [];

/**
 * The two countdowns of a result that is still out: "if lost 18 min, if won 41 min".
 * @param {import("./wire.d.ts").Call | undefined} call
 * @returns {import("./tags.js").Children[]}
 */
export const branchLine = (call) => (call?.branches ?? [])
  .filter((x) => x.callAt)
  .sort((x, y) => ((x.callAt?.median ?? "") < (y.callAt?.median ?? "") ? -1 : 1))
  .map((x, i) => span({ key: x.fight, class: "branch-left" }, `${i ? " · " : ""}${ifWords(x)} `, left({ until: x.callAt?.median })));

/** @param {import("./wire.d.ts").Call} call */
export function callView(call) {
  if (call.onNow) {
    const branches = branchLine(call);
    return span(null, branches.length ? [`fight ${call.number} is on. Call `, branches] : `fight ${call.number} is on now`);
  }
  if (call.flag === "no-call" || !call.callAt?.median) return null;
  if (call.callNow) return span({ class: "call-now" }, "CALL NOW");
  return span(null, span({ class: "call-in" }, "call in "), b({ class: "call-left" }, left({ until: call.callAt.median })));
}

/** @param {Ctx} ctx @param {string} id */
export const robotFacts = (ctx, id) =>
  [stopLine(ctx, id), p({ class: powerClass(ctx, id) }, powerLine(ctx, id)), p({ class: "fact" }, onItLine(ctx, id))];

/** Event safety's stop, with who and why. @param {Ctx} ctx @param {string} id */
export function stopLine(ctx, id) {
  const stop = ctx.board.get(`power/${id}`)?.stop;
  return stop ? p({ class: "fact class-a" }, `STOPPED by ${nameOf(ctx.board, stop.by)} ${ctx.clock.hhmm(stop.at)}: ${stop.why}`) : null;
}

/** @param {Ctx} ctx @param {string} id */
function powerClass(ctx, id) {
  const state = ctx.live.stale >= 20 ? "unknown" : ctx.board.get(`power/${id}`)?.state;
  if (state === "unknown") return "fact unknown";
  return state === "live" || state === "test" ? "fact class-a" : "fact";
}

/** Whether this device's person leads the robot, or is the captain. @param {Ctx} ctx @param {string} id */
export const leads = (ctx, id) =>
  ctx.live.me?.role === "captain" || (Boolean(ctx.live.me?.person) && ctx.board.get(`robot/${id}`)?.lead === ctx.live.me?.person);

/** The order in which a robot's sheets fall due. */
const sheetOrder = ["load-in", "make-safe", "reopen", "first-in", "inspect", "close-up", "ready", "overnight", "pack-up"];

/** A robot's open sheets, the one due first at the front. @param {Ctx} ctx @param {string} robot */
export const openSheets = (ctx, robot) =>
  ctx.board.all("sheet")
    .filter((h) => h.robot === robot && h.state === "open")
    .sort((x, y) => sheetOrder.indexOf(x.list) - sheetOrder.indexOf(y.list));

export const classWords = { A: "PEOPLE", B: "AT RISK", C: "soon" };
export const classMarks = { A: "people-mark", B: "risk-mark", C: "soon-mark" };

/** An emergency has its own place, above every screen. @param {string} key */
export const isEmergency = (key) => key.startsWith("alarm/A-emergency-");

/**
 * The alarms of these classes that nobody has put aside: people first, then those
 * that nobody has taken, what has stood too long last. With the ids that
 * alarm.take and alarm.shelve name.
 * @param {Ctx} ctx
 * @param {string} classes such as "AB"
 */
export function alarmsOf(ctx, classes) {
  const rank = (/** @type {Alarm} */ x) => `${x.class}${x.stale ? 1 : 0}${x.takenBy ? 1 : 0}${x.since ?? ""}${x.what}`;
  return ctx.board.entries("alarm")
    .filter(([key, x]) => classes.includes(x.class) && !x.shelvedUntil && !isEmergency(key))
    .map(([key, alarm]) => ({ id: key.slice("alarm/".length), alarm }))
    .sort((x, y) => rank(x.alarm).localeCompare(rank(y.alarm)));
}

/** What an alarm says: what is wrong, who acts, who has taken it. @param {Ctx} ctx @param {Alarm} x */
export const alarmText = (ctx, x) => [
  span({ key: "mark", class: classMarks[x.class], "aria-hidden": "true" }),
  b({ key: "class" }, ` ${classWords[x.class]} `),
  `${x.what.replace(/\.$/, "")}${x.what.endsWith("?") ? "" : "."} `,
  b({ key: "act" }, x.act),
  x.takenBy ? ` · taken by ${nameOf(ctx.board, x.takenBy)} ${ctx.clock.hhmm(x.takenAt)}` : "",
  x.stale ? ` · stands since ${ctx.clock.hhmm(x.since)}` : "",
];

/** The class of an alarm's line. @param {Alarm} x */
export const alarmClass = (x) => `alarm class-${x.class.toLowerCase()}${x.takenBy ? " taken" : ""}`;

/** The alarms of these classes, people first. @param {Ctx} ctx @param {string} classes such as "AB" */
export function alarmsView(ctx, classes) {
  const list = alarmsOf(ctx, classes);
  return list.length
    ? div({ class: "alarms" }, list.map(({ id, alarm }) => p({ class: alarmClass(alarm), key: id }, alarmText(ctx, alarm))))
    : null;
}

/**
 * What is about people: of this screen's robot in full, on a button that leads to
 * the alarms; of others in one line.
 * @param {Ctx} ctx
 * @param {string | undefined} robot
 */
export function peopleLine(ctx, robot) {
  const list = alarmsOf(ctx, "A");
  if (list.length === 0) return null;
  const cls = `alarm class-a${list.some(({ alarm }) => !alarm.takenBy) ? "" : " taken"}`;
  const here = list.filter(({ alarm }) => robot && alarm.robot === robot).map(({ alarm: x }) => x);
  if (here.length) {
    const words = here.map((x) =>
      `${x.what.replace(/\.$/, "")}. ${x.act}${x.takenBy ? ` · taken by ${nameOf(ctx.board, x.takenBy)}` : ""}`);
    return div({ class: "alarms" },
      tap({ class: cls, words: `${classWords.A} ${words.join(" ")}`, mark: classMarks.A, act: () => ctx.go("#/me/alarms") }));
  }
  const at = list.map(({ alarm }) => (alarm.robot ? robotName(ctx, alarm.robot) : alarm.what.replace(/\.$/, "")));
  return div({ class: "alarms" },
    p({ class: cls },
      span({ class: classMarks.A, "aria-hidden": "true" }),
      b(null, ` ${classWords.A} `),
      [...new Set(at)].sort().join(", ")));
}

/**
 * The next call of a robot, or of any where the alarm is about none.
 * @param {import("./ctx.d.ts").Ctx} ctx
 * @param {string | undefined} robot
 */
export function nextCall({ board, clock }, robot) {
  const times = board.all("call")
    .filter((c) => (!robot || c.robot === robot) && c.callAt)
    .map((c) => /** @type {string} */ (c.callAt?.median));
  return times.filter((at) => Date.parse(at) > clock.now()).sort()[0];
}

/** Robots in the order of their numbers. @param {Ctx} ctx */
export const robots = (ctx) => ctx.board.all("robot").filter((r) => !r.retired).sort((x, y) => x.number - y.number);

/** Nouns in the order of their names, figures by their size. @template {{name: string}} N @param {readonly N[]} list */
export const byName = (list) => [...list].sort((x, y) => x.name.localeCompare(y.name, undefined, { numeric: true }));

/** The revision of a noun on this screen, 0 where there is none. @param {Ctx} ctx @param {string} key */
export const revOf = (ctx, key) => /** @type {{v?: number} | undefined} */ (ctx.board.get(/** @type {any} */ (key)))?.v ?? 0;

/** What this screen saw of these nouns. @param {Ctx} ctx @param {string[]} keys @returns {Record<string, number>} */
export const sawOf = (ctx, ...keys) => Object.fromEntries(keys.map((key) => [key, revOf(ctx, key)]));

/** The fix by which a job is begun, or was: the planned one while it is open. @param {Ctx} ctx @param {import("./wire.d.ts").Job} job */
export function fixOf(ctx, job) {
  const planned = ctx.board.get(`plan/${job.id}`)?.fix ?? -1;
  return job.state === "open" && planned >= 0 ? planned : job.chosen ?? 0;
}

/** What that fix leaves, where it is a patch. @param {Ctx} ctx @param {import("./wire.d.ts").Job} job */
export function patchLine(ctx, job) {
  const fix = job.fixes[fixOf(ctx, job)];
  if (fix?.way !== "patch") return null;
  return p({ class: "fact" }, "patch: ", fix.worksPct ? [b(null, `${fix.worksPct} % of it works after`), "; "] : null, fix.limits);
}
