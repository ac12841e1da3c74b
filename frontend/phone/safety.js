// Behind the phone's safety buttons: the alarms and what people do about them, an
// emergency, event safety's stop, the load-in inspection, the event's own order of
// switching on and off.

import { b, div, h2, hold, li, ol, p, tap } from "../core/tags.js";
import { emergencyWords, loadInSaid, nameOf } from "../core/words.js";
import { chargesView } from "../pack/attend.js";
import { alarmClass, alarmText, alarmsOf, nextCall, openSheets, relaxed, robotName, robots, sawOf } from "../core/screen.js";

/** @typedef {import("./page.js").Phone} Phone */
/** @typedef {import("../core/wire.d.ts").Alarm} Alarm */
/** @typedef {import("../core/wire.d.ts").Robot} Robot */
/** @typedef {{id: string, alarm: Alarm}} Named */

/** For how many minutes an alarm is snoozed; 15 is the most. */
const shelveMinutes = [5, 10, 15];

/** All alarms, with who has taken or shelved them; and what is relaxed. @param {Phone} phone */
function alarmsPage(phone) {
  const list = alarmsOf(phone.ctx, "ABC");
  const rules = relaxed(phone.ctx);
  return phone.frame(undefined, "Alarms",
    [
      list.length ? null : p({ class: "lead" }, "No alarm stands."),
      div({ class: "stack" }, list.map((x) => alarmView(phone, x))),
      chargesView(phone),
      shelvedView(phone),
      rules.length ? [h2(null, "relaxed here"), rules.map((sentence) => p({ key: sentence, class: "fact" }, sentence))] : null,
    ],
    phone.to("#/me", "MY NEXT MOVE", "main"));
}

/** @param {Phone} phone @param {Named} x */
function alarmView(phone, { id, alarm }) {
  const { ctx, nearOnly } = phone;
  const mine = alarm.takenBy === phone.me;
  return div({ class: "item", key: id },
    p({ class: alarmClass(alarm) }, alarmText(ctx, alarm)),
    phone.me ? div({ class: "row" },
      mine || (alarm.class === "A" && nearOnly)
        ? null
        : tap({ words: "I’m on it", act: () => phone.acts.ask({ do: "alarm.take", with: { alarm: id }, says: "you are on it" }) }),
      alarm.class === "A" || nearOnly ? null : phone.to(`#/me/shelve/${id}`, "snooze")) : null);
}

/** What is snoozed, by whom and until when. @param {Phone} phone */
function shelvedView(phone) {
  const { board, clock } = phone.ctx;
  const list = board.entries("alarm").filter(([, x]) => x.shelvedUntil).sort(([, x], [, y]) => x.what.localeCompare(y.what));
  if (list.length === 0) return null;
  return [h2(null, "snoozed"), list.map(([key, x]) => p({ key, class: "fact" },
    `${x.what.replace(/\.$/, "")} · until ${clock.hhmm(x.shelvedUntil)}, ${nameOf(board, x.shelvedBy)}: ` +
      `${board.get(/** @type {`mark/${string}`} */ (`mark/${key.slice(6)}`))?.reason ?? ""}`))];
}

/** Snoozes one alarm for a few minutes, with a reason. @param {Phone} phone */
function shelvePage(phone) {
  const id = phone.about;
  const alarm = phone.board.get(/** @type {`alarm/${string}`} */ (`alarm/${id}`));
  if (!alarm) return alarmsPage(phone);
  const reason = (phone.typed.reason ?? "").trim();
  const call = nextCall(phone.ctx, alarm.robot);
  const shelve = async (/** @type {number} */ minutes) => {
    const answer = await phone.acts.ask({
      do: "alarm.shelve", with: { alarm: id, minutes, reason, ...(call ? { nextCall: call } : {}) }, says: `snoozed for ${minutes} min`,
    });
    if (!answer.refusal) phone.ctx.go("#/me/alarms");
  };
  return phone.frame(alarm.robot, "Snooze this alarm",
    [
      p({ class: alarmClass(alarm) }, alarmText(phone.ctx, alarm)),
      p({ class: "lead" },
        "It stays listed with your name and comes back by itself: when the time is over, at the next call, or when its state changes."),
      phone.field("reason", "why it can wait"),
      div({ class: "choices three" },
        shelveMinutes.map((m) => tap({ key: String(m), class: "choice", words: `snooze ${m} min`, off: !reason, act: () => shelve(m) }))),
    ],
    phone.to("#/me/alarms", "BACK", "main"));
}

/** One hold raises it; where it is can be said, and need not. @param {Phone} phone */
function emergencyPage(phone) {
  const { ctx } = phone;
  const robot = phone.typed.robot ?? phone.about;
  const raise = async () => {
    const answer = await phone.acts.ask({ do: "emergency.raise", with: robot ? { robot } : {}, ...emergencyWords });
    if (!answer.refusal && !phone.gone) ctx.go("#/me");
  };
  const waits = ctx.live.waiting.some((w) => w.do === "emergency.raise" && (w.with.robot ?? "") === (robot ?? ""));
  const where = robot ? ` at ${robotName(ctx, robot)}` : "";
  const choose = (/** @type {string} */ id, /** @type {string} */ words) =>
    tap({ key: id || "none", class: robot === id ? "choice chosen" : "choice", words, act: () => phone.type("robot", id) });
  return phone.frame(undefined, "Emergency",
    [
      p({ class: "lead" }, "Hold the button: every screen shows it. Shout, too. The board calls nobody from outside."),
      h2(null, "where"),
      div({ class: "choices" }, robots(ctx).map((r) => choose(r.id, robotName(ctx, r.id))), choose("", "somewhere else")),
      cardView(phone),
    ],
    [div({ class: "row" }, phone.to("#/me", "back, nothing happened")),
      hold({
        class: "main people", robot: "emergency", words: `EMERGENCY${where}${waits ? ": NOT SENT YET" : ""}`, off: waits, act: raise,
      })]);
}

/** What the officials say to do. @param {Phone} phone */
function cardView({ ctx: { board, clock } }) {
  const event = board.get("event/event");
  if (!event?.card?.text) {
    return p({ class: "fact" },
      "The officials’ card is not entered. The screens will say: raise the alarm – get clear – tell event safety.");
  }
  return [h2(null, "the officials’ card"), p({ class: "card-text" }, event.card.text),
    p({ class: "fact" }, `approved by ${event.card.approvedBy}, entered ${clock.hhmm(event.entered.card)}`)];
}

/** Says that an emergency is over, and how. @param {Phone} phone */
function overPage(phone) {
  const emergency = phone.about;
  const how = (phone.typed.how ?? "").trim();
  const act = async () => {
    const answer = await phone.acts.ask({
      do: "emergency.end", with: { emergency, how }, says: "the emergency is over", asked: "end the emergency",
    });
    if (!answer.refusal) phone.ctx.go("#/me");
  };
  return phone.frame(undefined, "Is the emergency over?",
    [
      p({ class: "lead" }, "Event safety says when it is. A robot it was about stays unknown until it is made safe again."),
      phone.field("how", "how it ended"),
    ],
    [div({ class: "row" }, phone.to("#/me", "not yet")), tap({ class: "main", words: "IT IS OVER", off: !how, act })]);
}

/** Event safety stops everything on a robot. @param {Phone} phone */
function stopPage(phone) {
  const robot = phone.about;
  const name = robotName(phone.ctx, robot);
  const why = (phone.typed.why ?? "").trim();
  const act = async () => {
    const answer = await phone.acts.ask({ do: "robot.stop", with: { robot, why }, says: `${name} is stopped`, asked: `stop ${name}` });
    if (!answer.refusal) phone.ctx.go(`#/robot/${robot}`);
  };
  return phone.frame(robot, `Stop ${name}`,
    [
      p({ class: "lead" },
        "It becomes unknown, its jobs are held, a signature is withdrawn. It may be made safe and nothing more until event safety lifts " +
          "the stop."),
      phone.field("why", "why"),
    ],
    [
      div({ class: "row" }, phone.to(`#/robot/${robot}`, "back")),
      hold({ class: "main", robot: name, words: `STOP ${name}`, off: !why, act }),
    ]);
}

/**
 * On a robot's page: event safety's buttons, the load-in inspection, and the
 * event's order of switching on or off where it is due.
 * @param {Phone} phone
 * @param {Robot} robot
 */
export function safetyView(phone, robot) {
  const officials = phone.ctx.live.me?.role === "safety" ? [stopButton(phone, robot)] : [];
  const loadIn = loadInView(phone, robot);
  if (officials.length === 0 && !loadIn) return orderView(phone, robot);
  return [orderView(phone, robot), h2(null, "for event safety"), div({ class: "stack held" }, officials, loadIn)];
}

/** @param {Phone} phone @param {Robot} robot */
function stopButton(phone, robot) {
  const name = robotName(phone.ctx, robot.id);
  if (!phone.board.get(`power/${robot.id}`)?.stop) return phone.to(`#/me/stop/${robot.id}`, `stop ${name}`);
  return hold({
    key: "go-on", robot: name, words: `lift the stop: ${name}`,
    act: () => phone.acts.ask({
      do: "robot.go-on", with: { robot: robot.id }, seen: sawOf(phone.ctx, `power/${robot.id}`),
      says: `${name} may go on, unknown as it is`, asked: `lift the stop of ${name}`,
    }),
  });
}

/** The load-in inspection: done, open, or to begin. @param {Phone} phone @param {Robot} robot */
function loadInView(phone, robot) {
  const { ctx, board } = phone;
  const done = loadInSaid(ctx, robot.id);
  const open = openSheets(ctx, robot.id).find((h) => h.list === "load-in");
  if (open || !phone.me) return null; // the sheet itself is among the robot's sheets
  if (!board.get("event/event")?.loadIn && ctx.live.me?.role !== "safety") return done ? p({ class: "fact" }, done) : null;
  return [p({ key: "said", class: "fact" }, done || "load-in inspection: not done"),
    tap({
      key: "load-in", words: "begin the load-in inspection",
      act: () =>
        phone.acts.ask({ do: "robot.load-in", with: { robot: robot.id }, says: `load-in inspection of ${robotName(ctx, robot.id)}` }),
    })];
}

/** The event's own steps, in its order, when they are the next thing. @param {Phone} phone @param {Robot} robot */
function orderView(phone, robot) {
  const event = phone.board.get("event/event");
  const state = phone.board.get(`power/${robot.id}`)?.state;
  const steps = state === "ready" ? event?.activationOrder : state === "live" ? event?.deactivationOrder : undefined;
  if (!steps?.length) return null;
  return [h2(null, state === "ready" ? "to switch on, as this event orders it" : "to switch off, as this event orders it"),
    ol({ class: "steps" }, steps.map((step, i) => li({ key: step }, b(null, `${i + 1} `), step)))];
}

/** The pages of this module by name. @type {Record<string, (phone: Phone) => import("../core/tags.js").Node>} */
export const pages = { alarms: alarmsPage, shelve: shelvePage, emergency: emergencyPage, over: overPage, stop: stopPage };
