// Captain: the day in a strip, always there: a tile a robot in the order of the calls,
// with what decides it; a tap shows that robot's work alone.

import { b, button, div, left, span } from "../core/tags.js";
import { chanceFigure, flagWords, handsOn, powerWords } from "../core/words.js";
import { robots } from "../core/screen.js";

/** @typedef {import("./captain.js").Captain} Captain */
/** @typedef {import("../core/wire.d.ts").Robot} Robot */

/** @param {Captain} captain */
export function dayStrip(captain) {
  const at = (/** @type {Robot} */ r) => {
    const call = captain.board.get(`call/${r.id}`);
    return call?.callAt && call.flag !== "no-call" ? call.callAt.median : "~";
  };
  const list = robots(captain.ctx).filter((r) => !r.withdrawn)
    .sort((x, y) => (at(x) < at(y) ? -1 : at(x) > at(y) ? 1 : x.number - y.number));
  return div({ class: "day-strip", role: "group", "aria-label": "robots in order of call; one shows its work alone" },
    list.map((r) => tile(captain, r)));
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
    span({ class: "tile-line" }, b(null, `${robot.number} ${robot.name}`), callWords(call)),
    span({ class: "tile-line" },
      flagged
        ? span({ class: "flag class-b" }, span({ class: "risk-mark", "aria-hidden": "true" }), " ", flagWords[call.flag])
        : span(null, powerWords[power?.state ?? "unknown"]),
      ready === undefined || call?.onNow
        ? null
        : b({ title: "of ten such days the call is met" }, chanceFigure(ready))),
    span({ class: "tile-line" }, names.length ? `${names.join(" ")} in` : "nobody in"));
}

/** @param {import("../core/wire.d.ts").Call | undefined} call */
function callWords(call) {
  if (call?.onNow) return b(null, "on now");
  if (!call?.callAt || call.flag === "no-call") return span(null, "no call");
  return b({ class: "tile-call" }, call.callNow ? "CALL NOW" : left({ until: call.callAt.median }));
}
