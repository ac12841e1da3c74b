// Damage that stands on a robot: what each asks, and what people say of it.

import { div, h2, hold, p, tap } from "../core/tags.js";
import { nameOf } from "../core/words.js";
import { PIN_FIGURES, pinDone, pinPad } from "./hands.js";
import { byName, leads, robotName, robots, sawOf } from "../core/screen.js";

/** @typedef {import("./page.js").Phone} Phone */
/** @typedef {import("../core/wire.d.ts").DamageNow} DamageNow */
/** @typedef {import("../core/wire.d.ts").Grade} Grade */

/** Grades that a damage may be given here; more than the first is said at the report. @type {[Grade, string][]} */
const grades = [["GX", "can hurt people"], ["G3", "mend or swap it first"], ["G2", "a patch will do"], ["G1", "it can wait"]];

/** @param {Phone} phone @param {string} robot @returns {DamageNow[]} */
const standing = (phone, robot) => phone.board.get(`strip/${robot}`)?.damage ?? [];

/** The damage of a robot, each with its page behind it. @param {Phone} phone @param {string} robot */
export function standingView(phone, robot) {
  const list = standing(phone, robot);
  if (list.length === 0) return null;
  return [
    h2(null, "damage"),
    div({ class: "stack" }, list.map((d) => phone.to(`#/me/standing/${d.damage}`, d.says))),
  ];
}

/** @param {Phone} phone */
function standingPage(phone) {
  const d = phone.board.get(`damage/${phone.about}`);
  const back = phone.to("#/me", "MY NEXT MOVE", "main");
  if (!d || d.dropped) return phone.frame(undefined, "That damage is gone", null, back);
  const now = standing(phone, d.robot).find((x) => x.damage === d.id);
  const ask = (/** @type {string} */ name, /** @type {object} */ more, /** @type {string} */ says) => phone.acts.ask({
    do: /** @type {any} */ (name), with: /** @type {any} */ ({ damage: d.id, ...more }), seen: sawOf(phone.ctx, `damage/${d.id}`), says,
  });
  const about = `${d.number} ${d.part}`;
  return phone.frame(d.robot, `Damage ${about}`,
    [
      p({ class: "lead" }, now?.says ?? "Nothing is open about it."),
      (d.loosened ?? []).map((l) => p({ key: l.at, class: "fact" }, `${nameOf(phone.board, l.by)}: ${l.what} (${l.reason})`)),
      now?.asks === "job" || now?.asks === "accept"
        ? div({ class: "stack" }, phone.to(`#/damage/${d.robot}/${d.id}`, "make a job of it"))
        : null,
      leadView(phone, d.id, ask, about),
    ],
    [
      phone.nearOnly ? null : div({ class: "row" },
        phone.to(`#/robot/${d.robot}`, "back"),
        phone.me && (now?.asks === "accept" || now?.asks === "look")
          ? phone.to(`#/me/standing-pin/${d.id}`, now.asks === "accept" ? "someone else accepts it here" : "someone else looked at it")
          : null),
      mainButton(phone, now, ask, about) ?? back,
    ]);
}

/**
 * @param {Phone} phone @param {DamageNow | undefined} now
 * @param {(name: string, more: object, says: string) => void} ask @param {string} about
 */
function mainButton(phone, now, ask, about) {
  if (phone.nearOnly || !phone.me) return null;
  switch (now?.asks) {
    case "accept":
      return tap({ class: "main", words: "I ACCEPT IT AS IT IS", act: () => ask("damage.accept", {}, `accepted: ${about}`) });
    case "look":
      return hold({
        class: "main", words: "LOOKED AT, IT IS PUT RIGHT", robot: about, act: () => ask("damage.look", {}, `looked at: ${about}`),
      });
  }
  return null;
}

/**
 * What the lead, the captain and event safety say of it, with a reason.
 * @param {Phone} phone @param {string} id
 * @param {(name: string, more: object, says: string) => void} ask @param {string} about
 */
function leadView(phone, id, ask, about) {
  const d = phone.board.get(`damage/${id}`);
  if (!d || phone.nearOnly || !(leads(phone.ctx, d.robot) || phone.ctx.live.me?.role === "safety")) return null;
  const reason = (phone.typed.reason ?? "").trim();
  const others = robots(phone.ctx).filter((r) => r.id !== d.robot);
  return [
    phone.field("reason", "why, or where the part is"),
    p({ class: "hint" }, reason ? "It stands in the review." : "Write it first, then choose."),
    div({ class: "choices" },
      tap({ words: "its part is off the robot", off: !reason, act: () => ask("damage.off", { what: reason }, `off: ${about}`) }),
      d.off ? tap({ words: "it is on again", act: () => ask("damage.off", { back: true }, `on again: ${about}`) }) : null,
      grades.filter(([grade]) => grade !== d.grade).map(([grade, words]) =>
        tap({ key: grade, words, off: !reason, act: () => ask("damage.regrade", { grade, reason }, `${about}: ${words}`) }))),
    hold({
      class: "for-good", words: "no damage: drop it", robot: about, off: !reason,
      act: () => ask("damage.regrade", { grade: d.grade, drop: true, reason }, `dropped: ${about}`),
    }),
    others.length ? h2(null, "it is on another robot") : null,
    div({ class: "choices" }, others.map((r) =>
      tap({
        key: r.id, words: robotName(phone.ctx, r.id), off: !reason,
        act: () => ask("damage.move", { robot: r.id, reason }, `moved: ${about}`),
      }))),
  ];
}

/** Someone else accepts a damage, or has looked at it, with their PIN on this phone. @param {Phone} phone */
function pinPage(phone) {
  const d = phone.board.get(`damage/${phone.about}`);
  const asks = d ? standing(phone, d.robot).find((x) => x.damage === d.id)?.asks : undefined;
  if (!d || (asks !== "accept" && asks !== "look")) return standingPage(phone);
  const about = `${d.number} ${d.part}`;
  const back = `#/me/standing/${d.id}`;
  const { other: person } = phone;
  if (!person) {
    const others = byName(phone.board.all("person").filter((x) => !x.retired && x.claimed && !x.minor && !x.guest && x.id !== phone.me));
    return phone.frame(d.robot, `Damage ${about}: who ${asks === "accept" ? "accepts it" : "looked at it"}?`,
      div({ class: "choices" }, others.map((x) =>
        tap({ key: x.id, class: "choice", words: x.name, act: () => phone.ctx.go(`#/me/standing-pin/${d.id}/${x.id}`) }))),
      phone.to(back, "BACK", "main"));
  }
  const who = nameOf(phone.board, person);
  const pin = phone.typed.pin ?? "";
  return phone.frame(d.robot, `${who} types their own PIN`,
    [
      p({ class: "lead" }, asks === "accept"
        ? `Damage ${about} is left as it is: ${who} accepts that by name.`
        : `Damage ${about}: ${who} did no work on it, has looked, and it is put right or off.`),
      pinPad(phone, person),
    ],
    [
      div({ class: "row" }, phone.to(back, "cancel")),
      hold({
        class: "main", robot: about, off: pin.length !== PIN_FIGURES,
        words: asks === "accept" ? `${who.toUpperCase()} ACCEPTS IT` : `${who.toUpperCase()} LOOKED AT IT`,
        act: async () => pinDone(
          phone,
          await phone.acts.ask({
            do: asks === "accept" ? "damage.accept" : "damage.look", with: { damage: d.id, person }, pins: [{ person, pin }],
            seen: sawOf(phone.ctx, `damage/${d.id}`), says: `${asks === "accept" ? "accepted" : "looked at"} by ${who}: ${about}`,
          }),
          back,
        ),
      }),
    ]);
}

/** @type {Record<string, (phone: Phone) => import("../core/tags.js").Node>} */
export const pages = { standing: standingPage, "standing-pin": pinPage };
