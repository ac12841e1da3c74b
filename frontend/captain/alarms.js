// Captain: the alarms above the columns and in a list of their own, what is
// snoozed, what is relaxed; and raising an emergency.

import { button, div, h2, p, span, tap } from "../core/tags.js";
import { count, nameOf } from "../core/words.js";
import { about } from "./row.js";
import { alarmClass, alarmText, alarmsOf, nextCall, relaxed, sawOf } from "../core/screen.js";

/** @typedef {import("./captain.js").Captain} Captain */
/** @typedef {import("../core/wire.d.ts").Alarm} Alarm */

/** What is about people stands open, the rest folds to one line. @param {Captain} captain */
export function alarmStrip(captain) {
  const people = alarmsOf(captain.ctx, "A");
  const risks = alarmsOf(captain.ctx, "B");
  const rules = relaxed(captain.ctx);
  if (people.length + risks.length + rules.length === 0) return null;
  const open = captain.alarmsOpen && risks.length > 0;
  return div({ class: "alarms" },
    people.map(({ id, alarm }) => alarmView(captain, id, alarm)),
    risks.length || rules.length ? div({ key: "folded", class: "folded" },
      risks.length
        ? button(
          {
            type: "button", class: "fold class-b", "aria-expanded": open,
            onClick: () => { captain.alarmsOpen = !open; captain.redraw(); },
          },
          span({ class: "risk-mark", "aria-hidden": "true" }), ` ${count(risks.length, "alarm")} ${open ? "▴" : "▾"}`)
        : null,
      rules.length ? p({ class: "relaxed" }, `RELAXED ${rules.join(" ")}`) : null) : null,
    open ? risks.map(({ id, alarm }) => alarmView(captain, id, alarm)) : null);
}

/** @param {Captain} captain @param {string} id @param {Alarm} alarm @param {string} [where] else than in the strip */
function alarmView(captain, id, alarm, where = "") {
  return div({ key: id, class: `${alarmClass(alarm)} row` },
    p(null, alarmText(captain.ctx, alarm)),
    div({ class: "card-acts" }, about(alarm.what.replace(/\.$/, "") + where,
      alarm.takenBy === captain.ctx.live.me?.person
        ? null
        : tap({ words: "I’m on it", act: () => captain.acts.ask({ do: "alarm.take", with: { alarm: id }, says: "you are on it" }) }),
      alarm.class === "A" ? null : tap({ words: "snooze", act: () => askShelve(captain, id, alarm) }))));
}

/** @param {Captain} captain @param {string} id @param {Alarm} alarm */
function askShelve(captain, id, alarm) {
  const call = nextCall(captain.ctx, alarm.robot);
  captain.open({
    title: "Snooze this alarm", do: "alarm.shelve", from: { minutes: 15 }, also: { alarm: id, ...(call ? { nextCall: call } : {}) },
    says: "the alarm is snoozed", save: "snooze",
    warns: `${alarm.what.replace(/\.$/, "")}. It stays listed with your name, and comes back when the time is over, at the next call, ` +
      `or when its state changes.`,
    fields: [
      { name: "minutes", label: "for how long, at most 15", type: "whole", unit: "min" },
      { name: "reason", label: "why it can wait", type: "text" },
    ],
  });
}

/** What waits for someone's word, and what an earlier program let be. @param {Captain} captain */
function owedView(captain) {
  const list = captain.board.get("owed/event")?.list ?? [];
  if (!list.length) return null;
  const screen = (/** @type {typeof list[0]} */ x) => (x.damage ? `#/me/standing/${x.damage}` : `#/captain/${x.pack ? "pack" : "robots"}`);
  const noun = (/** @type {typeof list[0]} */ x) => (x.damage ? "damage" : x.pack ? "packs" : "robots");
  return [h2(null, "to put right"), list.map((x) => div({ class: "card", key: x.what },
    p(null, x.what),
    p({ class: "fact" }, x.act),
    div({ class: "card-acts" }, about(x.what, tap({ words: `open the ${noun(x)}`, act: () => captain.ctx.go(screen(x)) })))))];
}

/** All alarms, those snoozed, and what is relaxed. @param {Captain} captain */
export function alarmList(captain) {
  const { board, clock } = captain.ctx;
  const list = alarmsOf(captain.ctx, "ABC");
  const aside = board.entries("alarm").filter(([, x]) => x.shelvedUntil).sort(([, x], [, y]) => x.what.localeCompare(y.what));
  const rules = relaxed(captain.ctx);
  return div({ class: "list" },
    h2(null, "alarms"),
    list.length ? null : p({ class: "fact" }, "none stands"),
    list.map(({ id, alarm }) => alarmView(captain, id, alarm, ", in the list")),
    owedView(captain),
    aside.length ? h2(null, "snoozed") : null,
    aside.map(([key, x]) => p({ key, class: "fact" },
      `${x.what.replace(/\.$/, "")} · until ${clock.hhmm(x.shelvedUntil)}, ${nameOf(board, x.shelvedBy)}: ` +
        `${board.get(/** @type {`mark/${string}`} */ (`mark/${key.slice(6)}`))?.reason ?? ""}`)),
    h2(null, "relaxed here"),
    rules.length
      ? rules.map((sentence) => p({ key: sentence, class: "fact" }, sentence))
      : p({ class: "fact" }, "nothing: the board’s own rules apply as they are"));
}

/** @param {Captain} captain */
export function askEmergency(captain) {
  captain.open({
    title: "Emergency", do: "emergency.raise", from: {}, says: "emergency raised on every screen", save: "EMERGENCY", held: "emergency",
    warns: "Hold the button at the foot: every screen shows it. Nothing here has to be filled in. Shout, too. " +
      "The board calls nobody from outside.",
    fields: [
      { name: "robot", label: "at which robot", type: "ref", kind: "robot", only: (r) => !r.retired },
      { name: "place", label: "where", type: "ref", kind: "place", only: (x) => !x.retired },
      { name: "what", label: "what happened", type: "text" },
    ],
  });
}

/** Who briefed a person, and when. @param {Captain} captain @param {import("../core/wire.d.ts").Person} person */
export const briefedSaid = ({ board, ctx }, person) => (person.briefedAt
  ? `briefed by ${nameOf(board, person.briefedBy)} ${ctx.clock.hhmm(person.briefedAt)}`
  : "not briefed");

/** @param {Captain} captain @param {import("../core/wire.d.ts").Person} person */
export const briefButton = (captain, person) => tap({
  key: "brief", words: person.briefedAt ? "briefed again" : "was briefed", act: () => captain.acts.ask({
    do: "person.brief", with: { person: person.id }, seen: sawOf(captain.ctx, `person/${person.id}`), says: `${person.name} was briefed`,
    undo: true,
  }),
});
