// The phone's buttons for a person's own tag, hands and jobs.

import { hold, tap } from "./tags.js";
import { sawOf } from "./act.js";
import { robotName } from "./screen.js";

/** @typedef {import("./phone.js").Phone} Phone */

/**
 * @param {Phone} phone
 * @param {"job.start" | "job.resume" | "job.finish"} what
 * @param {string} job
 * @param {string} words
 * @param {string} says
 */
export function jobButton(phone, what, job, words, says) {
  const waits = phone.waits(what, job);
  return tap({ key: what + job, class: "main", words: waits ? "NOT SENT YET" : words, off: waits, act: () => phone.acts.ask({ do: what, with: { job }, says, undo: true }) });
}

/** Puts my own tag on; minors and guests mark hands near. @param {Phone} phone @param {string} robot @param {string} [cls] */
export function tagButton(phone, robot, cls = "") {
  const name = robotName(phone.ctx, robot);
  if (phone.nearOnly) return handsButton(phone, robot, cls);
  const waits = phone.waits("tag.on", robot);
  const words = waits ? "MY TAG: NOT SENT YET" : cls ? "PUT MY TAG ON" : "put my tag on";
  return tap({ key: `tag${robot}`, class: cls, words: `${words} · ${name}`, off: waits, act: () => phone.acts.ask({ do: "tag.on", with: { robot }, says: `my tag is on ${name}` }) });
}

/** @param {Phone} phone @param {string} robot @param {string} [cls] */
export function handsButton(phone, robot, cls = "") {
  const name = robotName(phone.ctx, robot);
  const waits = phone.waits("hands.on", robot);
  const words = waits ? "hands near: not sent yet" : "my hands are near";
  return tap({ key: `hands${robot}`, class: cls, words: `${cls ? words.toUpperCase() : words} · ${name}`, off: waits, act: () => phone.acts.ask({ do: "hands.on", with: { robot }, says: `my hands are near ${name}` }) });
}

/** Takes my own tag off, by a hold. @param {Phone} phone @param {import("./wire.d.ts").Tag} tag @param {string} [cls] */
export function untagButton(phone, tag, cls = "") {
  const robot = robotName(phone.ctx, tag.robot);
  return hold({ key: tag.id, class: cls, robot, words: `${cls ? "TAKE MY TAG OFF" : "take my tag off"} ${robot}`, act: () => phone.acts.ask({ do: "tag.off", with: { tag: tag.id }, seen: sawOf(phone.ctx, `tag/${tag.id}`), says: `my tag is off ${robot}` }) });
}

/** @param {Phone} phone @param {import("./wire.d.ts").Hands} near @param {string} [cls] */
export function unhandsButton(phone, near, cls = "") {
  const robot = robotName(phone.ctx, near.robot);
  return hold({ key: near.id, class: cls, robot, words: `${cls ? "MY HANDS ARE AWAY FROM" : "my hands are away from"} ${robot}`, act: () => phone.acts.ask({ do: "hands.off", with: { hands: near.id }, seen: sawOf(phone.ctx, `hands/${near.id}`), says: `my hands are away from ${robot}` }) });
}
