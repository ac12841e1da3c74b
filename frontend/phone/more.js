// Behind "more": all robots and their jobs, my tags and hands, the running order,
// notes, and leaving.

import { a, ago, b, div, h2, hold, img, left, li, p, span, tap, ul } from "../core/tags.js";
import { chanceView } from "../core/chance.js";
import { wholeMinutes } from "../core/clock.js";
import { atWork as peopleAtWork, count, foreseen, heldWords, jobWords, listNames, listWords } from "../core/words.js";
import { costLine, minutes, nameOf, postponeLine, powerLine } from "../core/words.js";
import { handsButton, isOn, tagButton, unhandsButton, untagButton, workButton } from "./page.js";
import { absentView } from "./absent.js";
import { owesButton, owesView } from "./owes.js";
import { presentView } from "./hands.js";
import { mayLessen, powerView } from "./power.js";
import { safetyView } from "./safety.js";
import { standingView } from "./standing.js";
import { endLists, outcomePage, worksView } from "./works.js";
import { byName, fixOf, flagView, leads, openSheets, patchLine, relaxedFor, robotFacts, robotName, robots, sawOf } from "../core/screen.js";

/** @typedef {import("./page.js").Phone} Phone */
/** @typedef {import("../core/wire.d.ts").Job} Job */
/** @typedef {import("../core/wire.d.ts").Robot} Robot */
/** @typedef {import("../core/wire.d.ts").Fight} Fight */

const atWork = ["running", "held", "open", "finished", "deferred"];
const live = ["open", "running", "held"];
/** Who may read the review of the day. */
const reviewers = ["captain", "safety"];
const triageOrder = ["must", "should", "could"];

/** @param {Phone} phone */
function morePage(phone) {
  const { board, me } = phone;
  const tags = board.all("tag").filter((t) => t.person === me);
  const near = board.all("hands").filter((n) => n.person === me);
  return phone.frame(
    undefined,
    phone.ctx.live.me?.name ?? "",
    [
      tags.length + near.length ? h2(null, "my tags and hands") : null,
      div({ class: "stack held" }, tags.map((tag) => untagButton(phone, tag)), near.map((n) => unhandsButton(phone, n))),
      h2(null, "robots"),
      div({ class: "stack" }, robots(phone.ctx).map((r) => robotButton(phone, r))),
      h2(null, "the rest"),
      div({ class: "grid" },
        phone.to("#/me/order", "running order"),
        phone.to("#/me/packs", "packs"),
        phone.to("#/me/notes", "notes"),
        phone.to("#/me/alarms", "alarms"),
        phone.to("#/me/trouble", "trouble"),
        phone.to("#/me/words", "what the words mean"),
        phone.ctx.live.me?.role === "captain" ? phone.to("#/captain", "captain’s screen") : null,
        reviewers.includes(phone.ctx.live.me?.role ?? "")
          ? a({ key: "review", class: "press", href: "/sheet/review" }, "the day’s review")
          : null,
        tap({
          words: document.documentElement.dataset.scheme === "dark" ? "light screen" : "dark screen",
          act: () => { phone.ctx.setScheme(document.documentElement.dataset.scheme === "dark" ? "light" : "dark"); phone.screen.redraw(); },
        })),
      p({ class: "hint" },
        "It sounds for an emergency, for your robot’s alarms and its call, while its screen is on: turn the sound up, " +
          "and set the phone’s screen time-out to the longest."),
      hold({ robot: "this phone", words: "leave, or join as someone else, on this phone", act: () => phone.ctx.live.leave() }),
    ],
    phone.to("#/me", "MY NEXT MOVE", "main"),
  );
}

/** @param {Phone} phone @param {Robot} robot */
function robotButton(phone, robot) {
  const jobs = phone.board.all("job").filter((j) => j.robot === robot.id && live.includes(j.state));
  return div({ class: "item", key: robot.id },
    phone.to(`#/robot/${robot.id}`, robotName(phone.ctx, robot.id)),
    p({ class: "fact" }, `${powerLine(phone.ctx, robot.id)} · ${count(jobs.length, "job")} to do`));
}

/** A robot: who is on it, its sheets, its jobs. @param {Phone} phone */
function robotPage(phone) {
  const robot = phone.board.get(`robot/${phone.about}`);
  if (!robot) return morePage(phone);
  const jobs = phone.board.all("job").filter((j) => j.robot === robot.id && atWork.includes(j.state)).sort(byUrgency);
  return phone.frame(
    robot.id,
    robotName(phone.ctx, robot.id),
    [
      div({ class: "facts" },
        robotFacts(phone.ctx, robot.id),
        placeLine(phone, robot),
        relaxedFor(phone.ctx, robot.id).map((sentence) => p({ key: sentence, class: "fact" }, `relaxed: ${sentence}`))),
      chanceLines(phone, robot.id),
      robot.driver === phone.me ? [p({ key: "cost", class: "fact" }, costLine(phone.board, robot.id)), worksView(phone, robot)] : null,
      ownView(phone, robot),
      rechecksView(phone, robot.id),
      sheetsView(phone, robot),
      h2(null, "jobs"),
      div({ class: "stack" }, jobs.length ? jobs.map((j) => jobRow(phone, j)) : p({ class: "fact" }, "none on the board")),
      standingView(phone, robot.id),
      robot.driver === phone.me ? null : worksView(phone, robot),
      powerView(phone, robot),
      safetyView(phone, robot),
      presentView(phone, robot.id),
      robot.lead === phone.me || phone.ctx.live.me?.role !== "crew" ? absentView(phone, robot.id) : null,
      h2(null, "something new"),
      div({ class: "grid" },
        phone.to(`#/damage/${robot.id}`, "report damage"),
        phone.to(`#/me/place/${robot.id}`, "it is elsewhere now"),
        phone.to(`#/me/doubt/${robot.id}`, "its power is in doubt"),
        mayLessen(phone, robot.id) ? phone.to(`#/me/less/${robot.id}`, "an energy is off it, or its place is another") : null,
        endLists(phone, robot)),
    ],
    phone.to("#/me", "MY NEXT MOVE", "main"),
  );
}

/** Will it make its call, and the one cause that matters most. @param {Phone} phone @param {string} robot */
function chanceLines(phone, robot) {
  const known = phone.board.get(`chance/${robot}`);
  const call = phone.board.get(`call/${robot}`);
  const cause = known?.cause ?? (call?.flag === "tight" || call?.flag === "wont-finish" ? call.cause : undefined);
  const postponed = postponeLine(phone.ctx, robot);
  if (!known && !cause && !postponed) return null;
  return div({ class: "facts" },
    known && call
      ? p({ class: "fact" },
        b(null, `hands-on ${wholeMinutes(call.handsOnSec, "left")} min`),
        call.needSec ? `, the work takes ${minutes(call.needSec)}` : "")
      : null,
    known ? p({ class: "fact" }, chanceView(known)) : null,
    postponed ? p({ class: "fact" }, postponed) : null,
    cause?.text ? p({ class: "fact" }, "why: ", b(null, cause.text)) : null);
}

/** @param {Phone} phone @param {Robot} robot */
function placeLine(phone, robot) {
  const place = phone.board.get(`place/${phone.board.get(`power/${robot.id}`)?.place ?? ""}`);
  return p({ class: "fact" }, place ? `at ${place.name}` : "nobody has said where it is");
}

/** @param {Job} x @param {Job} y */
function byUrgency(x, y) {
  return atWork.indexOf(x.state) - atWork.indexOf(y.state)
    || triageOrder.indexOf(x.triage) - triageOrder.indexOf(y.triage)
    || x.number - y.number;
}

/** My own tag and hands on one robot. @param {Phone} phone @param {Robot} robot */
function ownView(phone, robot) {
  const tag = phone.board.all("tag").find((t) => t.robot === robot.id && t.person === phone.me);
  const near = phone.board.all("hands").find((n) => n.robot === robot.id && n.person === phone.me);
  return div({ class: "stack held" },
    tag ? untagButton(phone, tag) : phone.nearOnly ? null : tagButton(phone, robot.id),
    near ? unhandsButton(phone, near) : handsButton(phone, robot.id));
}

/** What is to be answered again while people are at work, each with the time left. @param {Phone} phone @param {string} robot */
function rechecksView(phone, robot) {
  const list = phone.board.get(`strip/${robot}`)?.rechecks ?? [];
  if (list.length === 0 || phone.nearOnly) return null;
  return div({ class: "stack" }, list.map((r) => div({ class: "item", key: r.line },
    p({ class: "fact" }, "check again, or everyone leaves it, in ", b(null, left({ until: r.due }))),
    phone.to(`#/sheet/${r.sheet}/${r.line}`, r.ask))));
}

/** @param {Phone} phone @param {Robot} robot */
function sheetsView(phone, robot) {
  const open = openSheets(phone.ctx, robot.id);
  const named = packLines(phone, robot.id);
  if (open.length + named.length === 0) return null;
  return [h2(null, "sheets"), div({ class: "stack" }, open.map((h) => {
    const done = h.lines.filter((l) => (h.answers ?? []).some((x) => x.line === l.id && x.said !== "no")).length;
    return phone.to(`#/sheet/${h.id}`, `${listWords[h.list].toLowerCase()}: ${done} of ${h.lines.length} answered`);
  }), named)];
}

/** Which pack is in is said again where one went in or came out since. @param {Phone} phone @param {string} robot */
function packLines(phone, robot) {
  if (phone.nearOnly || phone.board.get(`power/${robot}`)?.state !== "closing-up") return [];
  const sheet = phone.board.all("sheet").filter((h) => h.robot === robot && h.list === "close-up").sort((x, y) => y.number - x.number)[0];
  if (sheet?.state !== "complete") return [];
  return sheet.lines.filter((l) => l.kind === "pack").map((l) => phone.to(`#/sheet/${sheet.id}/${l.id}`, l.ask));
}

/** @param {Phone} phone @param {Job} job */
function jobRow(phone, job) {
  const who = listNames((job.assigned ?? []).map((id) => nameOf(phone.board, id)));
  const state = job.state === "held" && job.heldFor ? heldWords(job) : jobWords[job.state];
  return div({ class: "item", key: job.id },
    phone.to(`#/me/job/${job.id}`, `${job.number} ${job.name}`),
    p({ class: "fact" },
      `${job.triage} · ${state}${who ? ` · ${who}` : " · nobody yet"} `,
      flagView(phone.board.get(`plan/${job.id}`)?.flag)),
    whyLine(phone, job));
}

/** Why a job is flagged. @param {Phone} phone @param {Job} job */
function whyLine(phone, job) {
  const plan = phone.board.get(`plan/${job.id}`);
  const flagged = plan?.flag === "tight" || plan?.flag === "wont-finish";
  return flagged && plan?.cause?.text ? p({ class: "fact" }, `why: ${plan.cause.text}`) : null;
}

/** One job: what it is, and what I can do about it. @param {Phone} phone */
function jobPage(phone) {
  const job = phone.board.get(`job/${phone.about}`);
  if (!job) return morePage(phone);
  const fix = job.fixes[fixOf(phone.ctx, job)];
  const atIt = peopleAtWork(job).map((id) => nameOf(phone.board, id));
  const mine = (job.assigned ?? []).includes(phone.me);
  const people = mine ? (job.assigned ?? []).filter((id) => id !== phone.me) : [...(job.assigned ?? []), phone.me];
  return phone.frame(
    job.robot,
    `${job.number} ${job.name}`,
    [
      p({ class: "fact" },
        `${job.triage} · ${job.state === "held" && job.heldFor ? `on hold: ${heldWords(job)}` : jobWords[job.state]}` +
          `${job.heldText ? ` · ${job.heldText}` : ""}`),
      owesView(phone, job),
      p({ class: "fact" }, `${fix.name}: likely ${minutes(fix.likelySec)} min, bad case ${minutes(fix.badSec)}`),
      patchLine(phone.ctx, job),
      p({ class: "fact" },
        [
          fix.station === "none" ? "" : fix.station,
          ...(fix.stock ?? []).map((n) => spareWords(phone, n)),
          fix.lockout ? "locked out" : "",
          fix.packOut ? "packs out" : "",
        ].filter(Boolean).join(" · ")),
      p({ class: "fact" }, listNames((job.assigned ?? []).map((id) => nameOf(phone.board, id))) || "nobody is on it yet"),
      atIt.length ? p({ class: "fact" }, `at work: ${listNames(atIt)}`) : null,
      damagePhotos(phone, job),
    ],
    [
      div({ class: "row" },
        live.includes(job.state)
          ? tap({
            words: mine ? "not me" : "I take it",
            act: () => phone.acts.ask({
              do: "job.assign", with: { job: job.id, people }, says: mine ? `off ${job.number}` : `on ${job.number}`, undo: true,
            }),
          })
          : null,
        job.state === "running" ? phone.to(`#/me/hold/${job.id}`, "hold") : null,
        job.state === "running" && leads(phone.ctx, job.robot) && !isOn(phone, job)
          ? tap({
            words: "done, for all on it",
            act: () => phone.acts.ask({ do: "job.finish", with: { job: job.id }, says: `done with ${job.number}`, undo: true }),
          })
          : null,
        job.damages?.length ? phone.to(`#/me/outcome/${job.id}`, "what came of it") : null,
        ["finished", "closed"].includes(job.state)
          ? tap({
            words: "reopen",
            act: () => phone.acts.ask({ do: "job.reopen", with: { job: job.id }, says: `reopened ${job.number}`, undo: true }),
          })
          : null,
        phone.to(`#/robot/${job.robot}`, "back")),
      live.includes(job.state) ? workButton(phone, job.id) : owesButton(phone, job) ?? phone.to("#/me", "MY NEXT MOVE", "main"),
    ],
  );
}

/** @param {Phone} phone @param {{stock: string, count: number}} need */
function spareWords(phone, need) {
  const spare = phone.board.get(`stock/${need.stock}`);
  return spare ? `needs ${need.count} ${spare.name}; ${spare.count} left${spare.where ? `, ${spare.where}` : ""}` : "";
}

/** @param {Phone} phone @param {Job} job */
function damagePhotos(phone, job) {
  const photos = (job.damages ?? []).flatMap((id) => phone.board.get(`damage/${id}`)?.photos ?? []);
  return photos.length ? div({ class: "photos" }, photos.map((id) => photoView(id))) : null;
}

/** @param {string} id */
const photoView = (id) =>
  a({ key: id, href: `/photos/${id}` }, img({ src: `/photos/${id}/thumb`, alt: "photo of the damage", width: 160, loading: "lazy" }));

/** Where the robot is now. @param {Phone} phone */
function placePage(phone) {
  const robot = phone.about;
  const name = robotName(phone.ctx, robot);
  const places = byName(phone.board.all("place").filter((p) => !p.retired && !["charging", "watch", "store"].includes(p.kind)));
  return phone.frame(robot, `Where is ${name} now?`,
    div({ class: "choices" }, places.map((place) => tap({ key: place.id, class: "choice", words: place.name, act: async () => {
      const answer = await phone.acts.ask({ do: "robot.place", with: { robot, place: place.id }, says: `${name} is at ${place.name}` });
      if (!answer.refusal) phone.ctx.go(`#/robot/${robot}`);
    } }))),
    phone.to(`#/robot/${robot}`, "BACK", "main"));
}

/** The running order: which fight is on now, and how ours ended. @param {Phone} phone */
function orderPage(phone) {
  const fights = [...phone.board.all("fight")]
    .filter((f) => f.state !== "dropped")
    .sort((x, y) => x.arena.localeCompare(y.arena) || x.number - y.number);
  const names = [...new Set([...fights.map((f) => f.arena), ...phone.board.all("sighting").map((s) => s.arena)])].sort();
  return phone.frame(undefined, "Running order",
    [
      names.map((arena) => arenaView(phone, arena)),
      h2(null, "our fights"),
      div({ class: "stack" }, fights.map((f) => fightView(phone, f))),
    ],
    phone.to("#/me", "MY NEXT MOVE", "main"));
}

/** @param {Phone} phone @param {string} arena */
function arenaView(phone, arena) {
  const last = phone.board.all("sighting")
    .filter((s) => s.arena === arena)
    .sort((x, y) => (x.at < y.at || (x.at === y.at && x.number < y.number) ? 1 : -1))[0];
  const number = Number(phone.typed[`on ${arena}`] ?? "");
  const now = (/** @type {number} */ n) =>
    phone.acts.ask({ do: "fight.now", with: { arena, number: n }, says: `${arena}: fight ${n} is on now`, undo: true });
  return div({ class: "arena", key: arena },
    h2(null, arena),
    p({ class: "fact" },
      last
        ? [`fight ${last.number} was on `, ago({ since: last.at }), ` ago, says ${nameOf(phone.board, last.by)}`]
        : "nobody has said which fight is on"),
    last ? tap({ class: "wide", words: `fight ${last.number + 1} is on now`, act: () => now(last.number + 1) }) : null,
    div({ class: "row ends" },
      div({ class: "number" }, phone.figures(`on ${arena}`, "another fight")),
      tap({ words: number ? `fight ${number} is on now` : "is on now", off: !number, act: () => now(number) })));
}

const results = /** @type {const} */ ([
  ["won", "won"], ["lost", "lost"], ["drawn", "drawn"], ["forfeited", "forfeited"], ["won-by-forfeit", "won by forfeit"],
]);

/** @param {Phone} phone @param {Fight} fight */
function fightView(phone, fight) {
  const ended = fight.result ? results.find(([r]) => r === fight.result)?.[1] : fight.state === "on" ? "on now" : "";
  const asked = phone.typed.fight === fight.id;
  const due = foreseen(phone.ctx, fight);
  return div({ class: "item", key: fight.id },
    p(null,
      b(null, `${fight.arena} ${fight.number}`),
      ` ${robotName(phone.ctx, fight.robot)}${fight.opponent ? ` against ${fight.opponent}` : ""}` +
        `${fight.if ? `, if ${fight.if} before` : ""}`,
      ended ? span(null, " · ", b(null, ended)) : null),
    due ? p({ class: "fact" }, due) : null,
    asked
      ? div({ class: "choices" }, results.map(([result, words]) => tap({ key: result, class: "choice", words, act: async () => {
          await phone.acts.ask({ do: "fight.end", with: { fight: fight.id, result }, says: `fight ${fight.number}: ${words}`, undo: true });
          phone.type("fight", "");
        } })))
      : fight.state === "done" ? null : tap({ words: "it is over", act: () => phone.type("fight", fight.id) }),
    notFoughtView(phone, fight));
}

/** That a fight is still to come after all, for those who answer for its robot. @param {Phone} phone @param {Fight} fight */
function notFoughtView(phone, fight) {
  const said = fight.result || fight.state === "on";
  if (!said || !(leads(phone.ctx, fight.robot) || phone.ctx.live.me?.role === "safety")) return null;
  const key = `not fought ${fight.id}`;
  const reason = (phone.typed[key] ?? "").trim();
  return [
    phone.field(key, "it was not fought: why"),
    reason
      ? tap({ words: "it is still to come", act: () => phone.acts.ask({
        do: "fight.not-fought", with: { fight: fight.id, reason }, seen: sawOf(phone.ctx, `fight/${fight.id}`),
        says: `fight ${fight.number} is still to come`,
      }) })
      : null,
  ];
}

/** What a replaced board held back, and who has settled it. @param {Phone} phone @param {import("../core/wire.d.ts").Note} n */
function heldView(phone, n) {
  if (n.settledAt) return p({ class: "fact" }, `settled by ${nameOf(phone.board, n.settledBy)}`);
  if (!["captain", "safety"].includes(phone.ctx.live.me?.role ?? "")) return null;
  return tap({
    words: "entered again, or no longer so",
    act: () => phone.acts.ask({ do: "note.settle", with: { note: n.id }, says: "settled" }),
  });
}

/** @param {Phone} phone */
function notesPage(phone) {
  const notes = [...phone.board.all("note")].sort((x, y) => (x.at < y.at ? 1 : -1)).slice(0, 20);
  const text = (phone.typed.note ?? "").trim();
  const act = async () => {
    const answer = await phone.acts.ask({ do: "note.add", with: { text }, says: "noted", undo: true });
    if (!answer.refusal) phone.type("note", "");
  };
  return phone.frame(undefined, "Notes",
    [
      phone.field("note", "a note for everyone"),
      tap({ class: "wide", words: "write it down", off: !text, act }),
      ul({ class: "notes" },
        notes.map((n) =>
          li({ key: n.id }, p(null, n.text),
            p({ class: "fact" }, n.held ? "the board, " : `${nameOf(phone.board, n.by)}, `, ago({ since: n.at }), " ago"),
            n.held ? heldView(phone, n) : null))),
    ],
    phone.to("#/me", "MY NEXT MOVE", "main"));
}

/** The pages of this module by name. @type {Record<string, (phone: Phone) => import("../core/tags.js").Node>} */
export const pages = {
  more: morePage, robot: robotPage, job: jobPage, place: placePage, order: orderPage, notes: notesPage, outcome: outcomePage,
};
