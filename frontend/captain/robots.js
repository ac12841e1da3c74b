// Captain: the robots, the one whose call is most at risk first.

import { b, div, h2, hold, p, tap } from "../core/tags.js";
import { whyLess } from "./fields.js";
import { robotKind } from "./kinds.js";
import { chanceView } from "../core/chance.js";
import { loadInSaid, minutes, placeOf } from "../core/words.js";
import { byName, callView, flagView, robotFacts, robotName, robots, sawOf } from "../core/screen.js";

/** @typedef {import("./captain.js").Captain} Captain */
/** @typedef {import("../core/wire.d.ts").Robot} Robot */
/** @typedef {import("./fields.js").Field} Field */

const flagOrder = ["wont-finish", "tight", "none", "no-call"];

/** @param {Captain} captain */
export function robotsView(captain) {
  const call = (/** @type {Robot} */ r) => captain.board.get(`call/${r.id}`);
  const rank = (/** @type {Robot} */ r) => (r.withdrawn ? flagOrder.length : flagOrder.indexOf(call(r)?.flag ?? "no-call"));
  const at = (/** @type {Robot} */ r) => call(r)?.callAt?.median ?? "~";
  const shown = robots(captain.ctx).filter((r) => !captain.onlyRobot || r.id === captain.onlyRobot);
  const list = shown.sort((x, y) => rank(x) - rank(y) || at(x).localeCompare(at(y)));
  return div(
    { class: "list" },
    div({ class: "column-head" }, h2(null, "robots"), tap({ words: "add a robot", act: () => captain.open({
      title: "A new robot", do: "robot.add", fields: [...robotKind.fields, whyLess],
      from: { ...robotKind.fresh(), reason: "" }, says: "robot added",
    }) })),
    list.map((r) => robotView(captain, r)),
  );
}

/** @param {Captain} captain @param {Robot} robot */
function robotView(captain, robot) {
  const call = captain.board.get(`call/${robot.id}`);
  const chance = captain.board.get(`chance/${robot.id}`);
  const place = placeOf(captain.board, captain.board.get(`power/${robot.id}`)?.place);
  return div(
    { class: "card", key: robot.id },
    div({ class: "card-head" },
      b(null, robotName(captain.ctx, robot.id)),
      call && !robot.withdrawn ? callView(call) : null,
      robot.withdrawn ? b(null, "withdrawn") : flagView(call?.flag)),
    call && !robot.withdrawn && call.flag !== "no-call"
      ? p(null,
        b(null, `hands-on ${minutes(call.handsOnSec)} min`),
        `, the work takes ${minutes(call.needSec)}`,
        call.cause?.text ? ` · ${call.cause.text}` : "")
      : null,
    chance && !robot.withdrawn ? p(null, chanceView(chance)) : null,
    call?.uninspected ? p({ class: "fact" }, "not inspected yet: more damage may be found") : null,
    robot.withdrawn ? null : captain.remedies.view(robot.id),
    robotFacts(captain.ctx, robot.id),
    p({ class: "fact" }, place ? `at ${place}` : "nobody has said where it is"),
    loadInLine(captain, robot),
    div({ class: "card-acts" }, powerButtons(captain, robot),
      tap({ words: "place", act: () => askPlace(captain, robot) }),
      tap({ words: "doubt", act: () => askDoubt(captain, robot) }),
      tap({
        words: captain.openRobot === robot.id ? "less" : "more",
        act: () => { captain.openRobot = captain.openRobot === robot.id ? "" : robot.id; captain.redraw(); },
      })),
    captain.openRobot === robot.id ? rareButtons(captain, robot) : null,
  );
}

/** The load-in inspection, where the event asks for one. @param {Captain} captain @param {Robot} robot */
function loadInLine(captain, robot) {
  const said = loadInSaid(captain.ctx, robot.id);
  if (said) return p({ class: "fact" }, said);
  return captain.board.get("event/event")?.loadIn ? p({ class: "fact" }, "load-in inspection: not done") : null;
}

/** @param {Captain} captain @param {Robot} robot */
function rareButtons(captain, robot) {
  const seen = sawOf(captain.ctx, `robot/${robot.id}`);
  return div(
    { class: "card-acts" },
    tap({
      words: "begin load-in inspection",
      act: () => captain.acts.ask({ do: "robot.load-in", with: { robot: robot.id }, says: `load-in inspection of ${robot.name} is open` }),
    }),
    tap({ words: "change", act: () => captain.open({
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
  );
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
      return [ask("robot.reopen", "reopen"), tap({ key: "test", words: "test it with power", act: () => askTest(captain, robot) })];
    case "test": return ask("robot.test-end", "end the test now");
    case "ready": return arenas(captain).map((arena) => hold({
      key: arena.id, robot: name, words: `LIVE in ${arena.name}: ${name}`,
      act: () => captain.acts.ask({
        do: "robot.live", with: { robot: robot.id, place: arena.id }, seen: sawOf(captain.ctx, `power/${robot.id}`),
        says: `${name} is live in ${arena.name}`,
      }),
    }));
  }
  return null;
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
