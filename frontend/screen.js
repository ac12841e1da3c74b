// Screen: what the phone's and the captain's screens share: redrawing, the head
// with the robot's name and number, and who is on it.

import { age, b, div, header, left, p, render, span } from "./tags.js";
import { flagWords, listNames, nameOf, powerWords } from "./words.js";

/** @typedef {import("./wire.d.ts").Ctx} Ctx */
/** @typedef {import("./wire.d.ts").Flag} Flag */
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
 * The head of a phone screen: robot, minutes to the call, flag, age of the board.
 * @param {Ctx} ctx
 * @param {string | undefined} id
 */
export function robotHead(ctx, id) {
  const call = id ? ctx.board.get(`call/${id}`) : undefined;
  return header(
    { class: "robot-head" },
    div({ class: "robot-name" }, id ? b(null, robotName(ctx, id)) : b(null, "Mendline"), age({})),
    call ? div({ class: "robot-call" }, callView(call), flagView(call.flag)) : null,
  );
}

/** @param {import("./wire.d.ts").Call} call */
export function callView(call) {
  if (call.onNow) return span(null, `fight ${call.number} is on now`);
  if (call.flag === "no-call" || !call.callAt?.median) return null;
  if (call.callNow) return span({ class: "call-now" }, "CALL NOW");
  return span(null, "call in ", b({ class: "call-left" }, left({ until: call.callAt.median })));
}

/** A robot's power state and who said so. @param {Ctx} ctx @param {string} id @returns {string} */
export function powerLine(ctx, id) {
  const power = ctx.board.get(`power/${id}`);
  if (!power) return "";
  if (ctx.live.stale >= 20) return "UNKNOWN to this screen: no word from the board";
  if (power.state === "unknown") return `${powerWords.unknown}: ${power.why || "nobody has looked today"}`;
  if (power.state === "test" && power.test) return `TEST, POWER ON: ${power.test.what} until ${ctx.clock.hhmm(power.test.until)}`;
  if (power.verifiedAt && power.state === "verified") return `verified by ${nameOf(ctx.board, power.verifiedBy)} ${ctx.clock.hhmm(power.verifiedAt)}`;
  if (power.verifiedAt && ["work", "closing-up"].includes(power.state)) {
    return `${powerWords[power.state]} · verified by ${nameOf(ctx.board, power.verifiedBy)} ${ctx.clock.hhmm(power.verifiedAt)}`;
  }
  return `${powerWords[power.state]} · said by ${nameOf(ctx.board, power.by)} ${ctx.clock.hhmm(power.since)}`;
}

/** Who is on a robot or near it. @param {Ctx} ctx @param {string} id */
export function onItLine(ctx, id) {
  const names = (/** @type {readonly {robot: string, person: string}[]} */ list) =>
    list.filter((n) => n.robot === id).map((n) => nameOf(ctx.board, n.person)).sort();
  const tags = names(ctx.board.all("tag"));
  const near = names(ctx.board.all("hands"));
  const parts = [];
  if (tags.length) parts.push(`tags on: ${listNames(tags)}`);
  if (near.length) parts.push(`hands near: ${listNames(near)}`);
  return parts.join(" · ") || "nobody’s tag is on";
}

/** @param {Ctx} ctx @param {string} id */
export const robotFacts = (ctx, id) => [p({ class: powerClass(ctx, id) }, powerLine(ctx, id)), p({ class: "fact" }, onItLine(ctx, id))];

/** @param {Ctx} ctx @param {string} id */
function powerClass(ctx, id) {
  const state = ctx.live.stale >= 20 ? "unknown" : ctx.board.get(`power/${id}`)?.state;
  if (state === "unknown") return "fact unknown";
  return state === "live" || state === "test" ? "fact class-a" : "fact";
}

/** The order in which a robot's sheets fall due. */
const sheetOrder = ["make-safe", "reopen", "first-in", "inspect", "close-up", "ready"];

/** A robot's open sheets, the one due first at the front. @param {Ctx} ctx @param {string} robot */
export const openSheets = (ctx, robot) =>
  ctx.board.all("sheet").filter((h) => h.robot === robot && h.state === "open").sort((x, y) => sheetOrder.indexOf(x.list) - sheetOrder.indexOf(y.list));

const classWords = { A: "PEOPLE", B: "AT RISK", C: "soon" };

/**
 * The alarms of these classes, people first: what is wrong and who acts.
 * @param {Ctx} ctx
 * @param {string} classes such as "AB"
 */
export function alarmsView(ctx, classes) {
  const list = ctx.board.all("alarm").filter((x) => classes.includes(x.class)).sort((x, y) => (x.class < y.class ? -1 : x.class > y.class ? 1 : x.what.localeCompare(y.what)));
  if (list.length === 0) return null;
  return div({ class: "alarms" }, list.map((x) => p(
    { class: `alarm class-${x.class.toLowerCase()}`, key: `${x.class}${x.what}` },
    span({ class: { A: "people-mark", B: "risk-mark", C: "soon-mark" }[x.class], "aria-hidden": "true" }),
    b(null, ` ${classWords[x.class]} `), `${x.what.replace(/\.$/, "")}. ${x.act}`)));
}

/** Robots in the order of their numbers. @param {Ctx} ctx */
export const robots = (ctx) => ctx.board.all("robot").filter((r) => !r.retired).sort((x, y) => x.number - y.number);

/** Nouns in the order of their names, figures by their size. @template {{name: string}} N @param {readonly N[]} list */
export const byName = (list) => [...list].sort((x, y) => x.name.localeCompare(y.name, undefined, { numeric: true }));

/** Minutes of seconds, rounded: "25". @param {number} sec */
export const minutes = (sec) => Math.round(sec / 60);
