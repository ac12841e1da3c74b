// Tags and hands of people who are here but whose phone is not: their own PIN on
// this device; and handing over, where the new tag comes on before the old comes off.

import { b, div, h2, hold, p, tap } from "../core/tags.js";
import { listNames, nameOf, onItLine } from "../core/words.js";
import { untagButton } from "./page.js";
import { pad } from "../core/pad.js";
import { byName, openSheets, robotName, sawOf } from "../core/screen.js";

/** @typedef {import("./page.js").Phone} Phone */
/** @typedef {import("../core/wire.d.ts").Tag | import("../core/wire.d.ts").Hands} Owned */

export const PIN_FIGURES = 6;

/** Others' tags and hands on a robot, each taken off by its owner's PIN here. @param {Phone} phone @param {string} robot */
export function presentView(phone, robot) {
  const others = (/** @type {readonly Owned[]} */ list) => list.filter((n) => n.robot === robot && n.person !== phone.me);
  const tags = others(phone.board.all("tag"));
  const near = others(phone.board.all("hands"));
  if (tags.length + near.length === 0) return null;
  return [
    h2(null, "here, without their phone"),
    div({ class: "stack" },
      tags.map((t) => phone.to(`#/me/pin-tag/${t.id}`, `${nameOf(phone.board, t.person)} takes their tag off, by PIN`)),
      near.map((n) => phone.to(`#/me/pin-hands/${n.id}`, `${nameOf(phone.board, n.person)} lifts their hands near, by PIN`))),
  ];
}

/** The pad for another's own PIN. @param {Phone} phone @param {string} person */
export function pinPad(phone, person) {
  const pin = phone.typed.pin ?? "";
  return pad({
    id: "pin", label: `PIN of ${nameOf(phone.board, person)}: ${pin.length} of ${PIN_FIGURES} figures`, value: pin, hidden: true,
    set: (text) => phone.type("pin", text.replace(/\D/g, "").slice(0, PIN_FIGURES)),
  });
}

/**
 * Forgets the PIN, and goes back to a page when the board took it.
 * @param {Phone} phone
 * @param {import("../core/queue.js").Outcome} answer
 * @param {string} hash
 */
export function pinDone(phone, answer, hash) {
  phone.typed.pin = "";
  if (answer.refusal || phone.gone) phone.screen.redraw();
  else phone.ctx.go(hash);
}

/** @param {Phone} phone */
const offAlready = (phone) => phone.frame(undefined, "It is off already", null, phone.to("#/me", "MY NEXT MOVE", "main"));

/** @param {Phone} phone */
function pinTagPage(phone) {
  const tag = phone.board.get(`tag/${phone.about}`);
  if (!tag) return offAlready(phone);
  const name = nameOf(phone.board, tag.person);
  return pinOffPage(phone, tag, `TAKE ${name.toUpperCase()}’S TAG OFF`, async (pins) => phone.acts.ask({
    do: "tag.off", with: { tag: tag.id }, seen: sawOf(phone.ctx, `tag/${tag.id}`), pins,
    says: `${name}’s tag is off ${robotName(phone.ctx, tag.robot)}`, asked: `${name}’s tag off ${robotName(phone.ctx, tag.robot)}`,
  }));
}

/** @param {Phone} phone */
function pinHandsPage(phone) {
  const near = phone.board.get(`hands/${phone.about}`);
  if (!near) return offAlready(phone);
  const name = nameOf(phone.board, near.person);
  return pinOffPage(phone, near, `${name.toUpperCase()}’S HANDS ARE AWAY FROM`, async (pins) => phone.acts.ask({
    do: "hands.off", with: { hands: near.id }, seen: sawOf(phone.ctx, `hands/${near.id}`), pins,
    says: `${name}’s hands are away from ${robotName(phone.ctx, near.robot)}`,
    asked: `${name}’s hands away from ${robotName(phone.ctx, near.robot)}`,
  }));
}

/**
 * @param {Phone} phone
 * @param {Owned} owned
 * @param {string} words
 * @param {(pins: {person: string, pin: string}[]) => Promise<import("../core/queue.js").Outcome>} ask
 */
function pinOffPage(phone, owned, words, ask) {
  const robot = robotName(phone.ctx, owned.robot);
  const pin = phone.typed.pin ?? "";
  return phone.frame(
    owned.robot,
    `${nameOf(phone.board, owned.person)} types their own PIN`,
    [p({ class: "fact" }, onItLine(phone.ctx, owned.robot)), pinPad(phone, owned.person)],
    [
      div({ class: "row" }, phone.to(`#/robot/${owned.robot}`, "cancel")),
      hold({
        class: "main", robot, words: `${words} ${robot}`, off: pin.length !== PIN_FIGURES,
        act: async () => pinDone(phone, await ask([{ person: owned.person, pin }]), `#/robot/${owned.robot}`),
      }),
    ],
  );
}

/** Handing over: the other's tag comes on, then mine comes off. @param {Phone} phone */
function handoverPage(phone) {
  const robot = phone.about;
  const name = robotName(phone.ctx, robot);
  const mine = phone.board.all("tag").find((t) => t.robot === robot && t.person === phone.me);
  if (!mine) {
    return phone.frame(
      robot,
      "Your tag is off",
      p({ class: "fact" }, onItLine(phone.ctx, robot)),
      phone.to("#/me", "MY NEXT MOVE", "main"),
    );
  }
  const others = phone.board.all("tag").filter((t) => t.robot === robot && t.person !== phone.me);
  const first = openSheets(phone.ctx, robot).some((h) => h.list === "first-in");
  const running = phone.board.all("job").filter((j) => j.robot === robot && j.state === "running" && j.assigned?.includes(phone.me));
  return phone.frame(
    robot,
    others.length
      ? `2 of 2: ${listNames(others.map((t) => nameOf(phone.board, t.person)))} is on, now you`
      : first
      ? "Not yet: first in is open"
      : "1 of 2: their tag comes on first",
    [
      p({ class: "lead" }, first
        ? "First in is still open, and it is yours alone: answer it, or take your tag off before another’s goes on. " +
          "The robot stays verified."
        : "Tell them what you did and what is loose. The robot stays locked out throughout: their tag on, then yours off."),
      running.length ? p({ class: "fact" }, `you are on: ${running.map((j) => `${j.number} ${j.name}`).join(", ")}`) : null,
      others.length || first ? null : [
        p({ class: "fact" }, "They put it on with their own phone, or here with their PIN:"),
        div({ class: "choices" },
          mayCome(phone, robot).map((x) =>
            tap({ key: x.id, class: "choice", words: x.name, act: () => phone.ctx.go(`#/me/pin-tag-on/${robot}/${x.id}`) }))),
      ],
    ],
    [
      div({ class: "row" }, phone.to("#/me", "cancel")),
      others.length || first ? untagButton(phone, mine, "main") : phone.to(`#/robot/${robot}`, `SHOW ${name}`, "main"),
    ],
  );
}

/**
 * Who could take over: whoever has a PIN and is no minor or guest; the board has the last word.
 * @param {Phone} phone
 * @param {string} robot
 */
function mayCome(phone, robot) {
  return byName(phone.board.all("person").filter((x) => !x.retired
    && x.claimed
    && !x.minor
    && !x.guest
    && x.id !== phone.me
    && !phone.board.all("tag").some((t) => t.robot === robot && t.person === x.id)));
}

/** Another's own tag goes on by their PIN. @param {Phone} phone */
function pinTagOnPage(phone) {
  const { about: robot, other: person } = phone;
  const name = robotName(phone.ctx, robot);
  const who = nameOf(phone.board, person);
  const pin = phone.typed.pin ?? "";
  const act = async () => pinDone(
    phone,
    await phone.acts.ask({ do: "tag.on", with: { robot, person }, pins: [{ person, pin }], says: `${who}’s tag is on ${name}` }),
    `#/me/handover/${robot}`,
  );
  return phone.frame(
    robot,
    `${who} types their own PIN`,
    [
      p({ class: "fact" }, onItLine(phone.ctx, robot)),
      p({ class: "lead" }, "Their tag, their PIN: ", b(null, "nobody types it for them.")),
      pinPad(phone, person),
    ],
    [div({ class: "row" }, phone.to(`#/me/handover/${robot}`, "cancel")),
      tap({ class: "main", words: `PUT ${who.toUpperCase()}’S TAG ON · ${name}`, off: pin.length !== PIN_FIGURES, act })],
  );
}

/** The pages of this module by name. @type {Record<string, (phone: Phone) => import("../core/tags.js").Node>} */
export const pages = { handover: handoverPage, "pin-tag": pinTagPage, "pin-hands": pinHandsPage, "pin-tag-on": pinTagOnPage };
