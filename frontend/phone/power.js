// Power on a robot: closing up, a test with its end, live in the arena.

import { REST_MS, b, div, h2, hold, left, p, span, tap } from "../core/tags.js";
import { energyKinds, nameOf, onItLine, placeKinds, placeOf } from "../core/words.js";
import { closeUp, toSheet, untagButton } from "./page.js";
import { byName, leads, robotName, sawOf, stopLine } from "../core/screen.js";

/** @typedef {import("./page.js").Phone} Phone */
/** @typedef {import("../core/wire.d.ts").Robot} Robot */
/** @typedef {import("../core/wire.d.ts").Power} Power */

/** What tests are mostly of; other words can be typed. */
const tests = ["failsafe", "drive", "weapon", "failsafe, drive, weapon"];
/** For how many minutes a test may be asked; the board has the last word. */
const testMinutes = ["1", "2", "3", "5", "10", "15", "20", "30"];

/** What only the robot's lead, the captain or the driver is asked. @param {Phone} phone @param {Robot} robot */
export function powerView(phone, robot) {
  const lead = leads(phone.ctx, robot.id);
  if (!lead && robot.driver !== phone.me) return null;
  const name = robotName(phone.ctx, robot.id);
  const state = phone.board.get(`power/${robot.id}`)?.state;
  const begin = () => tap({ key: "close-up", words: "begin closing up", act: () => closeUp(phone, robot.id) });
  const open = async () => {
    const answer = await phone.acts.ask({ do: "robot.reopen", with: { robot: robot.id }, says: `reopening ${name}` });
    if (!answer.refusal) toSheet(phone, robot.id);
  };
  const goLive = () => arenas(phone).map((arena) => hold({
    key: arena.id, robot: name, words: `LIVE in ${arena.name}: ${name}`,
    act: () => phone.acts.ask({
      do: "robot.live", with: { robot: robot.id, place: arena.id }, seen: sawOf(phone.ctx, `power/${robot.id}`),
      says: `${name} is live in ${arena.name}`,
    }),
  }));
  /** @type {Record<string, () => import("../core/tags.js").Children>} */
  const byState = {
    ready: goLive,
    ...(lead ? {
      verified: begin,
      work: begin,
      "closing-up": () =>
        [tap({ key: "reopen", words: "reopen", act: open }), phone.to(`#/me/test/${robot.id}`, "test it with power")],
      test: () => phone.to(`#/me/testing/${robot.id}`, "the test, and its end"),
    } : {}),
  };
  const acts = byState[state ?? ""];
  return acts ? [h2(null, lead ? "for its lead" : "for its driver"), div({ class: "stack held" }, acts())] : null;
}

/** @param {Phone} phone */
const arenas = (phone) => byName(phone.board.all("place").filter((x) => !x.retired && x.kind === "arena"));

/**
 * Answers of one question, one chosen at a time, none beforehand.
 * @param {Phone} phone
 * @param {string} name
 * @param {string[]} options
 * @param {string} [cls]
 */
function choose(phone, name, options, cls = "") {
  return div({ class: `choices ${cls}`, role: "group" }, options.map((x) => {
    const chosen = phone.typed[name] === x;
    return tap({ key: x, class: chosen ? "choice chosen" : "choice", words: chosen ? `✓ ${x}` : x, act: () => phone.type(name, x) });
  }));
}

/** Power on for one named test, at a place, until a time. @param {Phone} phone */
function testPage(phone) {
  const robot = phone.about;
  const name = robotName(phone.ctx, robot);
  const power = phone.board.get(`power/${robot}`);
  if (power?.state === "test") return testingPage(phone);
  const mine = phone.board.all("tag").find((t) => t.robot === robot && t.person === phone.me);
  const places = byName(phone.board.all("place").filter((x) => !x.retired && (x.kind === "test-box" || x.kind === "arena")));
  return phone.frame(robot, "Test with power on",
    [
      div({ class: "facts" }, stopLine(phone.ctx, robot), p({ class: "fact" }, onItLine(phone.ctx, robot))),
      p({ class: "lead" },
        "The event’s safety officer says whether power may come on here. Everyone steps back from the box first, eyes covered."),
      h2(null, "what is tested"),
      choose(phone, "what", tests),
      phone.field("what", "or in a few words"),
      h2(null, "for how many minutes"),
      choose(phone, "minutes", testMinutes, "four"),
      places.length ? null : p({ class: "lead" }, "No test box and no arena is on the board. The captain enters one."),
      mine || places.length === 1
        ? null
        : div({ class: "stack held" }, places.map((place) => powerOn(phone, robot, name, place))),
    ],
    [
      div({ class: "row" }, phone.to(`#/robot/${robot}`, "cancel")),
      mine ? untagButton(phone, mine, "main") : places.length === 1 ? powerOn(phone, robot, name, places[0], "main") : null,
    ]);
}

/**
 * @param {Phone} phone
 * @param {string} robot
 * @param {string} name
 * @param {import("../core/wire.d.ts").Place} place
 * @param {string} [cls]
 */
function powerOn(phone, robot, name, place, cls = "") {
  const what = (phone.typed.what ?? "").trim();
  const minutes = Number(phone.typed.minutes ?? "");
  return hold({
    key: place.id, class: cls, restMs: REST_MS, robot: name, words: `POWER ON in ${place.name}: ${name}`, off: !what || !minutes,
    act: async () => {
      const answer = await phone.acts.ask({
        do: "robot.test", with: { robot, what, place: place.id, minutes }, seen: sawOf(phone.ctx, `power/${robot}`),
        says: `test of ${name}: ${what}`,
      });
      if (!answer.refusal && !phone.gone) phone.ctx.go(`#/me/testing/${robot}`);
    },
  });
}

/** A test that runs, its time and its end. @param {Phone} phone */
function testingPage(phone) {
  const robot = phone.about;
  const name = robotName(phone.ctx, robot);
  const test = phone.board.get(`power/${robot}`)?.test;
  if (phone.board.get(`power/${robot}`)?.state !== "test" || !test) {
    return phone.frame(robot, "The test has ended", [
      stopLine(phone.ctx, robot),
      p({ class: "lead" }, `${name} counts as live until it is made safe again. Hands out.`),
    ],
      phone.nearOnly
        ? phone.to("#/me", "MY NEXT MOVE", "main")
        : tap({ class: "main goes", words: "OPEN MAKE SAFE", act: () => toSheet(phone, robot) }));
  }
  const end = async () => {
    const answer = await phone.acts.ask({ do: "robot.test-end", with: { robot }, says: `the test of ${name} has ended` });
    if (!answer.refusal) toSheet(phone, robot);
  };
  return phone.frame(robot, "Test, power on",
    [
      p({ class: "lead" }, b(null, test.what), ` in ${placeOf(phone.board, test.place)}, begun by ${nameOf(phone.board, test.by)}`),
      div({ class: "time" }, div({ class: "figure" }, left({ until: test.until }), span({ class: "left-word" }, "left"))),
      p({ class: "fact class-a" }, `POWER IS ON until ${phone.ctx.clock.hhmm(test.until)}. Hands out.`),
      p({ class: "fact" }, "When it ends, early or on time, the robot is unknown and is made safe again."),
    ],
    leads(phone.ctx, robot)
      ? tap({ key: "end", class: "main", words: "END THE TEST", act: end })
      : phone.to("#/me", "MY NEXT MOVE", "main"));
}

/** Whether this device's person may say that there is less on a robot. @param {Phone} phone @param {string} robot */
export const mayLessen = (phone, robot) => leads(phone.ctx, robot) || phone.ctx.live.me?.role === "safety";

/** An energy that a robot no longer has, and what the place where it stands is for now. @param {Phone} phone */
function lessPage(phone) {
  const robot = phone.board.get(`robot/${phone.about}`);
  const place = robot ? phone.board.get(`place/${phone.board.get(`power/${robot.id}`)?.place ?? ""}`) : undefined;
  if (!robot) return phone.frame(undefined, "That robot is gone", null, phone.to("#/me", "MY NEXT MOVE", "main"));
  const name = robotName(phone.ctx, robot.id);
  const reason = (phone.typed.reason ?? "").trim();
  const has = energyKinds.filter(([kind]) => robot.energies?.some((x) => x.kind === kind));
  return phone.frame(robot.id, `What ${name} no longer has`,
    [
      p({ class: "lead" }, "Look at it first, with nobody’s hands on it. It stands in the review. An energy less makes the robot unknown."),
      phone.field("reason", "why"),
      h2(null, "an energy that is gone"),
      div({ class: "stack held" }, has.map(([kind, words]) => hold({
        key: kind, class: "for-good", words: `no ${words} any more`, robot: name, off: !reason,
        act: () => phone.acts.ask({
          do: "robot.energy-off", with: { robot: robot.id, energy: kind, reason }, says: `${name}: no ${words} any more`,
        }),
      }))),
      place ? h2(null, `what ${place.name} is now`) : null,
      place
        ? div({ class: "choices" }, placeKinds.filter(([kind]) => kind !== place.kind).map(([kind, words]) => tap({
          key: kind, words, off: !reason,
          act: () => phone.acts.ask({
            do: "place.turn", with: { place: place.id, kind, reason }, says: `${place.name}: ${words}`,
          }),
        })))
        : null,
    ],
    phone.to(`#/robot/${robot.id}`, `BACK TO ${name.toUpperCase()}`, "main"));
}

/** The pages of this module by name. @type {Record<string, (phone: Phone) => import("../core/tags.js").Node>} */
export const pages = { test: testPage, testing: testingPage, less: lessPage };
