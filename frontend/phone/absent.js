// A tag or hands near of someone who has gone: two people take it off, with typed
// answers, and its owner reads of it before putting any tag on again.

import { b, div, h2, hold, p, tap } from "../core/tags.js";
import { listNames, nameOf } from "../core/words.js";
import { pad } from "../core/pad.js";
import { byName, robotName, sawOf } from "../core/screen.js";

/** @typedef {import("./page.js").Phone} Phone */
/** @typedef {import("../core/wire.d.ts").Tag | import("../core/wire.d.ts").Hands} Owned */

const PIN_FIGURES = 6;
const MINUTE = 60_000;
/** How long ago the owner was called, in minutes. */
const callTimes = ["1", "5", "10", "20", "30", "60"];

/** The notice I have to read before anything else. @param {Phone} phone */
function noticePage(phone) {
  const { notice } = phone;
  if (!notice) return gonePage(phone);
  const robot = robotName(phone.ctx, notice.robot);
  const who = listNames([notice.by, notice.second].map((id) => nameOf(phone.board, id)));
  return phone.frame(
    notice.robot,
    `Read this first: you are off ${robot}`,
    [
      p({ class: "lead" }, `${who} took your tag or hands off ${robot} at ${phone.ctx.clock.hhmm(notice.at)}, as you could not be found.`),
      div({ class: "facts" },
        p(null, "why: ", b(null, notice.reason)),
        p(null, `looked: ${notice.lookedWhere}`),
        p(null, `called: ${notice.calledHow}, ${phone.ctx.clock.hhmm(notice.calledAt)}`),
        p(null, `${nameOf(phone.board, notice.checkedBy)} looked at the robot by eye`)),
      p({ class: "lead" }, "It may have power now. Read this before you put a tag on."),
    ],
    tap({
      class: "main", words: "I HAVE READ IT",
      act: () => phone.acts.ask({ do: "notice.take", with: { notice: notice.id }, says: "you have read it" }),
    }),
  );
}

/** Others' tags and hands on a robot, each with the way to take it off as two. @param {Phone} phone @param {string} robot */
export function absentView(phone, robot) {
  const others = (/** @type {readonly Owned[]} */ list) => list.filter((n) => n.robot === robot && n.person !== phone.me);
  const tags = others(phone.board.all("tag"));
  const near = others(phone.board.all("hands"));
  if (tags.length + near.length === 0) return null;
  return [
    h2(null, "someone has gone"),
    div({ class: "stack" },
      tags.map((t) => phone.to(`#/me/absent-tag/${t.id}`, `${nameOf(phone.board, t.person)}’s tag: take it off, as two`)),
      near.map((n) => phone.to(`#/me/absent-hands/${n.id}`, `${nameOf(phone.board, n.person)}’s hands near: lift them, as two`))),
  ];
}

/** @param {Phone} phone */
function absentTagPage(phone) {
  const tag = phone.board.get(`tag/${phone.about}`);
  return tag ? overridePage(phone, tag, "tag") : gonePage(phone);
}

/** @param {Phone} phone */
function absentHandsPage(phone) {
  const near = phone.board.get(`hands/${phone.about}`);
  return near ? overridePage(phone, near, "hands") : gonePage(phone);
}

/** @param {Phone} phone */
const gonePage = (phone) => phone.frame(undefined, "It is off already", null, phone.to("#/me", "MY NEXT MOVE", "main"));

/** @param {Phone} phone @param {Owned} owned @param {"tag" | "hands"} what */
function overridePage(phone, owned, what) {
  const { typed } = phone;
  const robot = robotName(phone.ctx, owned.robot);
  const owner = nameOf(phone.board, owned.person);
  const people = byName(phone.board.all("person").filter((x) => !x.retired && x.id !== owned.person));
  const set = (/** @type {string} */ text) => phone.type("pin", text.replace(/\D/g, "").slice(0, PIN_FIGURES));
  const choose = (/** @type {string} */ name, /** @type {[string, string][]} */ options) =>
    div({ class: "choices", role: "group" }, options.map(([value, words]) =>
      tap({
        key: value, class: typed[name] === value ? "choice chosen" : "choice", words: typed[name] === value ? `✓ ${words}` : words,
        act: () => phone.type(name, value),
      })));
  const seen = typed.seenHere ?? "";
  const given = ["lookedWhere", "calledHow", "reason"].every((name) => (typed[name] ?? "").trim())
    && typed.called
    && typed.checkedBy
    && typed.second
    && (!seen || typed.asked)
    && (typed.pin ?? "").length === PIN_FIGURES;
  return phone.frame(
    owned.robot,
    `${owner} is not here`,
    [
      p({ class: "lead" },
        `Two people do this, one of them the lead for ${robot}. Look for ${owner} first; ` +
          `the answers stay on record and ${owner} reads them.`),
      phone.field("lookedWhere", `where did you look for ${owner}`),
      phone.field("calledHow", `how did you call ${owner}`),
      h2(null, "when, in minutes ago"),
      choose("called", callTimes.map((min) => [min, min])),
      h2(null, "who looked at the robot by eye"),
      choose("checkedBy", people.map((x) => [x.id, x.name])),
      phone.field("reason", "why it cannot wait"),
      h2(null, "the second person"),
      choose("second", people.filter((x) => x.id !== phone.me && x.claimed).map((x) => [x.id, x.name])),
      seen
        ? [
          p({ class: "lead" }, `${owner} did something on the board just now. Look for ${owner} and ask first.`),
          choose("asked", [["yes", `we have, since then: ${owner} cannot take it off`]]),
        ]
        : null,
      typed.second
        ? pad({ id: "pin", label: `PIN of ${nameOf(phone.board, typed.second)}`, value: typed.pin ?? "", hidden: true, set })
        : null,
    ],
    [
      given ? null : p({ class: "hint" }, "Every question is answered first."),
      div({ class: "row" }, phone.to(`#/robot/${owned.robot}`, "cancel")),
      hold({
        class: "main", robot,
        words: what === "tag" ? `TAKE ${owner.toUpperCase()}’S TAG OFF ${robot}` : `LIFT ${owner.toUpperCase()}’S HANDS FROM ${robot}`,
        off: !given, act: () => override(phone, owned, what),
      }),
    ],
  );
}

/** @param {Phone} phone @param {Owned} owned @param {"tag" | "hands"} what */
async function override(phone, owned, what) {
  const { lookedWhere, calledHow, reason, called, checkedBy, second, pin, asked } = phone.typed;
  const said = {
    lookedWhere: lookedWhere.trim(), calledHow: calledHow.trim(), reason: reason.trim(), checkedBy, second,
    calledAt: new Date(phone.ctx.clock.now() - Number(called) * MINUTE).toISOString(),
    ...(asked ? { asked: true } : {}),
  };
  const shared = {
    seen: sawOf(phone.ctx, `${what}/${owned.id}`), pins: [{ person: second, pin }],
    says: `${nameOf(phone.board, owned.person)} is off ${robotName(phone.ctx, owned.robot)}`,
  };
  const answer = what === "tag"
    ? await phone.acts.ask({ do: "tag.override", with: { tag: owned.id, ...said }, ...shared })
    : await phone.acts.ask({ do: "hands.override", with: { hands: owned.id, ...said }, ...shared });
  phone.typed.pin = "";
  if (answer.refusal?.field === "asked") phone.typed.seenHere = "yes";
  if (!answer.refusal) phone.ctx.go(`#/robot/${owned.robot}`);
  else phone.screen.redraw();
}

/** The pages of this module by name. @type {Record<string, (phone: Phone) => import("../core/tags.js").Node>} */
export const pages = { notice: noticePage, "absent-tag": absentTagPage, "absent-hands": absentHandsPage };
