// Captain: the robots in the order of their calls, each with what would help it and
// its jobs.

import { button, div, h2, hold, p, span, tap } from "../core/tags.js";
import { whyLess } from "./fields.js";
import { robotKind } from "./kinds.js";
import { damageView } from "./damage.js";
import { jobsView } from "./jobs.js";
import { about } from "./row.js";
import { chanceView } from "../core/chance.js";
import { wholeMinutes } from "../core/clock.js";
import { costLine, loadInSaid, minutes, placeOf, worksLine } from "../core/words.js";
import { byName, callView, flagView, robotFacts, robotName, robots, sawOf } from "../core/screen.js";

/** @typedef {import("./captain.js").Captain} Captain */
/** @typedef {import("../core/wire.d.ts").Robot} Robot */
/** @typedef {import("./fields.js").Field} Field */

/** The robots in the order of their calls; those without one and those withdrawn last. @param {Captain} captain */
function inCallOrder(captain) {
  const at = (/** @type {Robot} */ r) => {
    const call = captain.board.get(`call/${r.id}`);
    return r.withdrawn ? "~~" : call?.callAt && call.flag !== "no-call" ? call.callAt.median : "~";
  };
  return robots(captain.ctx).sort((x, y) => (at(x) < at(y) ? -1 : at(x) > at(y) ? 1 : x.number - y.number));
}

/** Those in the strip, a tile each. @param {Captain} captain */
export const inStrip = (captain) => inCallOrder(captain).filter((r) => !r.withdrawn);

/** @param {Captain} captain */
export function robotsView(captain) {
  const only = inStrip(captain).find((r) => r.id === captain.onlyRobot);
  return [(only ? [only] : inCallOrder(captain)).map((r) => robotView(captain, r)), only ? null : addButton(captain)];
}

/** @param {Captain} captain */
const addButton = (captain) => div({ key: "add", class: "card-acts" }, tap({ words: "add a robot", act: () => captain.open({
  title: "A new robot", do: "robot.add", fields: [...robotKind.fields, whyLess],
  from: { ...robotKind.fresh(), reason: "" }, says: "robot added",
}) }), captain.board.all("robot").length || captain.tab === "team" ? null : tap({
  key: "folder", words: "load our team\u2019s folder", act: () => captain.ctx.go("#/captain/team"),
}));

/** @param {Captain} captain @param {Robot} robot */
function robotView(captain, robot) {
  const call = captain.board.get(`call/${robot.id}`);
  const chance = captain.board.get(`chance/${robot.id}`);
  const place = placeOf(captain.board, captain.board.get(`power/${robot.id}`)?.place);
  const name = robotName(captain.ctx, robot.id);
  const open = captain.openRow === robot.id;
  const power = [powerButtons(captain, robot)].flat();
  const elsewhere = placeButton(captain, robot);
  const live = captain.board.get(`power/${robot.id}`)?.state === "ready";
  const [verb, ...rest] = live ? [elsewhere] : [...power, elsewhere];
  return div(
    { class: "robot-of", key: robot.id, id: `row-${robot.id}` },
    div({ class: "robot-line" },
      h2(null, name),
      call && !robot.withdrawn ? callView(call) : null,
      robot.withdrawn ? "withdrawn" : flagView(call?.flag),
      div({ class: "robot-acts" }, about(name, verb),
        button({
          type: "button", class: "row-head more-of", "aria-expanded": open, "aria-label": `more: ${name}`,
          onClick: () => captain.unfold(robot.id),
        }, open ? "–" : "⋯"))),
    open ? div({ class: "row-acts" },
      div({ class: "card-acts" },
        about(name, rest, tap({ words: "doubt", act: () => askDoubt(captain, robot) }), rareButtons(captain, robot))),
      live ? power : null) : null,
    call && !robot.withdrawn && call.flag !== "no-call"
      ? p({ class: "robot-facts" },
        chanceView(chance),
        span(null, `hands-on ${wholeMinutes(call.handsOnSec, "left")} min, the work takes ${minutes(call.needSec)}`,
          call.cause?.text ? ` · ${call.cause.text}` : "",
          call.uninspected ? " · not inspected yet: more damage may be found" : ""))
      : null,
    div({ class: "robot-facts" }, robotFacts(captain.ctx, robot.id),
      p({ class: "fact" }, place ? `at ${place}` : "nobody has said where it is"),
      p({ class: "fact" }, loadInLine(captain, robot))),
    div({ class: "robot-facts" }, p(null, worksLine(captain.board, robot.id)), p(null, costLine(captain.board, robot.id))),
    robot.withdrawn ? null : captain.remedies.view(robot.id),
    damageView(captain, robot.id),
    jobsView(captain, robot.id),
  );
}

/** @param {Captain} captain @param {Robot} robot */
const placeButton = (captain, robot) => tap({ key: "place", words: "place", act: () => askPlace(captain, robot) });

/** The load-in inspection, where the event asks for one. @param {Captain} captain @param {Robot} robot */
function loadInLine(captain, robot) {
  const said = loadInSaid(captain.ctx, robot.id);
  return said || (captain.board.get("event/event")?.loadIn ? "load-in inspection: not done" : "");
}

/** @param {Captain} captain @param {Robot} robot */
function rareButtons(captain, robot) {
  const seen = sawOf(captain.ctx, `robot/${robot.id}`);
  return [
    tap({
      words: "begin load-in inspection",
      act: () => captain.acts.ask({ do: "robot.load-in", with: { robot: robot.id }, says: `load-in inspection of ${robot.name} is open` }),
    }),
    tap({ key: "change", words: "change", act: () => captain.open({
      title: `Change ${robot.name}`, do: "robot.change",
      fields: [...robotKind.fields, whyLess], from: { ...robot, reason: "" }, also: { robot: robot.id }, seen,
      says: `${robot.name} changed`,
      warns: "Changing the energies, or what holds its weapon, makes the robot unknown: the answers were about the old ones.",
    }) }),
    robot.withdrawn
      ? tap({ words: "back in", act: () => captain.acts.ask({
        do: "robot.back-in", with: { robot: robot.id }, seen, says: `${robot.name} is back in`, undo: true,
      }) })
      : tap({ words: "withdraw", act: () => captain.acts.ask({
        do: "robot.withdraw", with: { robot: robot.id }, seen, says: `${robot.name} is withdrawn`, undo: true,
      }) }),
    tap({
      class: "apart", words: "remove",
      act: () =>
        captain.acts.ask({ do: "robot.retire", with: { robot: robot.id }, seen, says: `${robot.name} is removed`, undo: true }),
    }),
  ];
}

/** What the lead can do from the state the robot is in. @param {Captain} captain @param {Robot} robot */
function powerButtons(captain, robot) {
  const state = captain.board.get(`power/${robot.id}`)?.state;
  const name = robotName(captain.ctx, robot.id);
  const ask = (/** @type {"robot.close-up" | "robot.reopen" | "robot.test-end"} */ what, /** @type {string} */ words) =>
    tap({ key: what, words, act: () => captain.acts.ask({ do: what, with: { robot: robot.id }, says: `${words}: ${name}` }) });
  switch (state) {
    case "verified":
    case "work": return ask("robot.close-up", "begin closing up");
    case "closing-up":
      return [tap({ key: "test", words: "test it with power", act: () => askTest(captain, robot) }), ask("robot.reopen", "reopen")];
    case "test": return ask("robot.test-end", "end the test now");
    case "ready": return arenas(captain).map((arena) => hold({
      key: arena.id, robot: name, words: `LIVE in ${arena.name}: ${name}`,
      act: () => captain.acts.ask({
        do: "robot.live", with: { robot: robot.id, place: arena.id }, seen: sawOf(captain.ctx, `power/${robot.id}`),
        says: `${name} is live in ${arena.name}`,
      }),
    }));
  }
  return [];
}

/** @param {Captain} captain */
const arenas = (captain) => byName(captain.board.all("place").filter((x) => !x.retired && x.kind === "arena"));

/** @param {Captain} captain @param {Robot} robot */
function askTest(captain, robot) {
  const name = robotName(captain.ctx, robot.id);
  captain.open({
    title: `Test ${name} with power on`, do: "robot.test", from: {}, also: { robot: robot.id },
    fields: [
      { name: "what", label: "what is tested", type: "text" },
      {
        name: "place", label: "where", type: "ref", kind: "place",
        only: (x) => !x.retired && (x.kind === "test-box" || x.kind === "arena"),
      },
      { name: "minutes", label: "for how long, 1 to 30", type: "whole", unit: "min" },
    ],
    seen: sawOf(captain.ctx, `power/${robot.id}`), says: `test of ${name}`, save: `POWER ON: ${name}`, held: name,
    warns: "Afterwards the robot is unknown, whatever was answered before.",
  });
}

/** @param {Captain} captain @param {Robot} robot */
function askPlace(captain, robot) {
  captain.open({
    title: `Where is ${robotName(captain.ctx, robot.id)} now?`, do: "robot.place", also: { robot: robot.id },
    from: { place: captain.board.get(`power/${robot.id}`)?.place },
    fields: [{ name: "place", label: "place", type: "ref", kind: "place" }], says: `${robot.name} is elsewhere now`,
  });
}

/** @param {Captain} captain @param {Robot} robot */
function askDoubt(captain, robot) {
  const name = robotName(captain.ctx, robot.id);
  captain.open({
    title: `${name} is not as the board says`, do: "robot.doubt", from: {}, also: { robot: robot.id },
    fields: [{ name: "why", label: "what you saw", type: "text" }], says: `${name} is unknown`, save: `set ${name} unknown`,
    warns: "The board then treats it as live until it is made safe again.",
  });
}
