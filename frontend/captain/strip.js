// Captain: the day in a strip, always there: a tile a robot in the order of the calls,
// with what decides it; a tap shows that robot's work alone.

import { b, button, div, left, span } from "../core/tags.js";
import { chanceFigure, flagWords, handsOn, listNames, powerWords } from "../core/words.js";
import { inStrip } from "./robots.js";

/** @typedef {import("./captain.js").Captain} Captain */
/** @typedef {import("../core/wire.d.ts").Robot} Robot */

/** @param {Captain} captain */
export function dayStrip(captain) {
  const list = inStrip(captain);
  return div(
    {
      class: list.length > 3 ? "day-strip many" : "day-strip", style: { "--robots": Math.max(1, list.length) }, role: "group",
      "aria-label": "robots in order of call; one shows its work alone",
    },
    list.map((r) => tile(captain, r)),
  );
}

/** @param {Captain} captain @param {Robot} robot */
function tile(captain, robot) {
  const { board } = captain;
  const call = board.get(`call/${robot.id}`);
  const ready = board.get(`chance/${robot.id}`)?.ready;
  const power = board.get(`power/${robot.id}`);
  const people = board.all("alarm").some((x) => x.class === "A" && x.robot === robot.id);
  const flagged = call && !call.onNow && (call.flag === "tight" || call.flag === "wont-finish");
  const on = captain.onlyRobot === robot.id;
  const names = handsOn(captain.ctx, robot.id).map((h) => h.name);
  return button(
    {
      type: "button", key: robot.id, class: `tile${on ? " here" : ""}${people ? " people" : ""}`, "aria-pressed": on,
      onClick: () => { captain.onlyRobot = on ? "" : robot.id; captain.redraw(); },
    },
    b({ class: "tile-name" }, `${robot.number} ${robot.name}`),
    span({ class: "tile-call" }, callWords(call)),
    span({ class: "tile-flag" }, flagged
      ? span({ class: "flag class-b" }, span({ class: "risk-mark", "aria-hidden": "true" }), " ", flagWords[call.flag])
      : powerWords[power?.state ?? "unknown"]),
    ready === undefined || call?.onNow
      ? null
      : b({ class: "tile-chance", title: "of ten such days the call is met" }, chanceFigure(ready)),
    span({ class: "tile-who", title: listNames(names) }, inWords(names)));
}

/** Who is in it, where there is room for two names. @param {string[]} names */
function inWords(names) {
  if (names.length === 0) return "nobody in";
  return names.length < 3 ? `${names.join(" ")} in` : `${names[0]} +${names.length - 1} in`;
}

/** @param {import("../core/wire.d.ts").Call | undefined} call */
function callWords(call) {
  if (call?.onNow) return "on now";
  if (!call?.callAt || call.flag === "no-call") return "no call";
  return call.callNow ? "CALL NOW" : left({ until: call.callAt.median });
}
