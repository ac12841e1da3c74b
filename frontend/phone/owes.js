// What a finished job owes before it closes, each with the button that leads to it;
// and the look at its work again, by someone who did not do it.

import { b, div, hold, p, tap } from "../core/tags.js";
import { nameOf } from "../core/words.js";
import { firstPin } from "../core/firstpin.js";
import { sawOf } from "../core/screen.js";
import { PIN_FIGURES, pinDone, pinPad } from "./hands.js";

/** @typedef {import("./page.js").Phone} Phone */
/** @typedef {import("../core/wire.d.ts").Job} Job */
/** @typedef {import("../core/wire.d.ts").JobOwes} JobOwes */

/** @param {Phone} phone @param {Job} job @returns {readonly JobOwes[]} */
const owesOf = (phone, job) => (job.state === "finished" ? phone.board.get(`plan/${job.id}`)?.owes ?? [] : []);

/** What it owes; the first has its button at the foot of the page. @param {Phone} phone @param {Job} job */
export function owesView(phone, job) {
  const owes = owesOf(phone, job);
  if (owes.length === 0) return null;
  return div({ class: "owes" }, owes.map((owed, i) =>
    div({ class: "item", key: owed.says }, p(null, owed.says), i === 0 ? null : leadsOn(phone, job, owed, ""))));
}

/** The main button of a finished job: to the first thing that it owes. @param {Phone} phone @param {Job} job */
export function owesButton(phone, job) {
  const [owed] = owesOf(phone, job);
  return owed ? leadsOn(phone, job, owed, "main") : null;
}

/** @param {Phone} phone @param {Job} job @param {JobOwes} owed @param {string} cls */
function leadsOn(phone, job, owed, cls) {
  if (phone.nearOnly) return null;
  const to = (/** @type {string} */ hash, /** @type {string} */ words) => phone.to(hash, cls ? words.toUpperCase() : words, cls);
  if (owed.sheet) return to(`#/sheet/${owed.sheet}${owed.line ? `/${owed.line}` : ""}`, "answer it");
  if (owed.pack) return to(`#/me/move/${owed.pack}`, `where is ${phone.board.get(`pack/${owed.pack}`)?.name ?? "it"} now?`);
  if (owed.looks?.includes(phone.me)) {
    return hold({
      class: cls, robot: `job ${job.number}`, words: "I LOOKED AGAIN",
      act: () => phone.acts.ask({
        do: "job.reinspect", with: { job: job.id }, seen: sawOf(phone.ctx, `job/${job.id}`), says: `looked at ${job.number} again`,
      }),
    });
  }
  return owed.looks?.length ? to(`#/me/look-again/${job.id}`, "someone looks at it here") : null;
}

/** Someone who did not do the work looks at it, on this phone. @param {Phone} phone */
function lookAgainPage(phone) {
  const job = phone.board.get(`job/${phone.about}`);
  const looks = job ? owesOf(phone, job).find((owed) => owed.looks?.length)?.looks : undefined;
  if (!job || !looks) return phone.frame(undefined, "Nobody needs to look again", null, phone.to("#/me", "MY NEXT MOVE", "main"));
  const about = `${job.number} ${job.name}`;
  const person = phone.typed.who ?? "";
  const pin = phone.typed.pin ?? "";
  const captain = phone.ctx.live.me?.role === "captain";
  const first = captain && Boolean(person) && !phone.board.get(`person/${person}`)?.claimed;
  const may = looks.filter((id) => phone.board.get(`person/${id}`)?.claimed || (captain && phone.board.get(`person/${id}`)?.signer));
  const act = async () => (!first || await firstPin(phone.acts, person, pin)) && pinDone(
    phone,
    await phone.acts.ask({
      do: "job.reinspect", with: { job: job.id, person }, seen: sawOf(phone.ctx, `job/${job.id}`), pins: [{ person, pin }],
      says: `${nameOf(phone.board, person)} looked at ${job.number} again`,
    }),
    `#/me/job/${job.id}`,
  );
  const title = `${nameOf(phone.board, person)} ${first ? "chooses a PIN of six figures" : "types their own PIN"}`;
  return phone.frame(job.robot, person ? title : `Who looks at ${about}?`,
    person
      ? [p({ class: "lead" }, "Look at the work first. ", b(null, "Nobody types it for them.")), pinPad(phone, person)]
      : div({ class: "choices" },
        may.map((id) => tap({ key: id, class: "choice", words: nameOf(phone.board, id), act: () => phone.type("who", id) }))),
    [
      div({ class: "row" }, phone.to(`#/me/job/${job.id}`, "cancel")),
      person
        ? hold({
          class: "main", robot: `job ${job.number}`, off: pin.length !== PIN_FIGURES, act,
          words: `${nameOf(phone.board, person).toUpperCase()} LOOKED AGAIN`,
        })
        : null,
    ]);
}

/** The pages of this module by name. @type {Record<string, (phone: Phone) => import("../core/tags.js").Node>} */
export const pages = { "look-again": lookAgainPage };
