// The pages of a sheet beside its line: who goes in first, the earlier answers, who
// else answers here, and the end.

import { REST_MS, ago, b, div, h1, h2, li, ol, p, tap } from "../core/tags.js";
import { listWords, nameOf } from "../core/words.js";
import { answerWords, isOpen, lastAnswer } from "./lines.js";
import { firstPin } from "../core/firstpin.js";
import { pad } from "../core/pad.js";
import { alarmsView, byName, leads, openSheets, robotFacts, robotName } from "../core/screen.js";

/** @typedef {import("./sheet.js").Walk} Walk */
/** @typedef {import("../core/wire.d.ts").Line} Line */
/** @typedef {import("../core/wire.d.ts").Sheet} Sheet */
/** @typedef {import("../core/wire.d.ts").Answer} Answer */

const PIN_FIGURES = 6;

/** Asks one person to put their tag on, then to go in first. @param {Walk} walk @param {Sheet} sheet @param {Line} line */
export function firstInPage(walk, sheet, line) {
  const { board } = walk.ctx;
  const robot = robotName(walk.ctx, sheet.robot);
  const first = board.all("tag").find((t) => t.robot === sheet.robot);
  const closes = !first && leads(walk.ctx, sheet.robot) && board.get(`power/${sheet.robot}`)?.state === "verified";
  const closeUp = () => walk.closeUp(sheet.robot);
  return walk.frame(sheet, `first-${line.id}-${first?.id}`, [
    walk.titleView(sheet, `line ${sheet.lines.indexOf(line) + 1} of ${sheet.lines.length}`),
    div({ class: "question" },
      h1({ tabIndex: -1, ref: (el) => { walk.question = /** @type {HTMLElement | null} */ (el); } },
        first ? `${nameOf(board, first.person)} goes in first.` : "One goes in first, alone: you?"),
      p({ class: "touch" }, "then: ", b(null, line.ask))),
    div({ class: "facts" }, robotFacts(walk.ctx, sheet.robot)),
  ], [
    div({ class: "row" },
      tap({ key: "home", words: "my next move", act: () => walk.ctx.go("#/me") }),
      closes ? tap({ key: "close", words: "covers stayed on: close up", restMs: REST_MS, act: closeUp }) : null),
    first ? walk.homeView() : firstTag(walk, sheet.robot, robot),
  ]);
}

/** @param {Walk} walk @param {string} robot @param {string} name */
function firstTag(walk, robot, name) {
  return tap({
    class: "main", words: `PUT MY TAG ON · ${name}`,
    act: () => walk.acts.ask({ do: "tag.on", with: { robot }, says: `my tag is on ${name}` }),
  });
}

/** @param {Walk} walk @param {Sheet} sheet */
export function earlierPage(walk, sheet) {
  const rows = sheet.lines.filter((line) => !isOpen(sheet, line) || lastAnswer(sheet, line));
  return walk.frame(sheet, "answers", [
    walk.titleView(sheet, "answers", true),
    ol({ class: "earlier" }, rows.map((line) => {
      const a = /** @type {Answer} */ (lastAnswer(sheet, line));
      return li({ key: line.id },
        p(null, line.ask),
        p(null,
          b(null, answerWords(walk.ctx, line, a)),
          ` · ${nameOf(walk.ctx.board, a.by)}, `,
          ago({ since: a.at }),
          " ago",
          a.paper ? ", on paper" : "",
          a.on ? `, on one device with ${nameOf(walk.ctx.board, a.on)}` : ""),
        sheet.state === "unanswered" || walk.nearOnly
          ? null
          : tap({ words: "answer again", act: () => { walk.again = line.id; walk.shown = ""; walk.show("line"); } }));
    })),
  ], tap({ class: "main goes", words: "BACK TO THE SHEET", act: () => walk.show("line") }));
}

/** @param {Walk} walk @param {Sheet} sheet */
export function personPage(walk, sheet) {
  const { me } = walk.ctx.live;
  const others = byName(walk.ctx.board.all("person").filter((p) => !p.retired && p.id !== me?.person));
  const people = others.filter((p) => p.claimed);
  const signers = me?.role === "captain" ? others.filter((p) => p.signer && (!p.claimed || p.claimedOn)) : [];
  return walk.frame(sheet, "person", [
    walk.titleView(sheet, "who answers?", true),
    people.length === 0 ? p({ class: "lead" }, "Nobody else has a PIN on this board yet: they join once on any device.") : null,
    div({ class: "choices" }, people.map((person) =>
      tap({
        key: person.id, class: "choice", words: person.name,
        act: () => { walk.proving = { person: person.id, pin: "" }; walk.show("pin"); },
      }))),
    signers.length
      ? [
        h2(null, "a signer without a phone"),
        div({ class: "choices" }, signers.map((person) =>
          tap({
            key: person.id, class: "choice", words: `${person.name} sets a PIN here`,
            act: () => { walk.proving = { person: person.id, pin: "", first: true }; walk.show("pin"); },
          }))),
      ]
      : null,
  ], [
    div({ class: "row" }, walk.paperButton()),
    tap({ class: "main goes", words: "BACK TO THE SHEET", act: () => walk.show("line") }),
  ]);
}

/** @param {Walk} walk @param {Sheet} sheet */
export function pinPage(walk, sheet) {
  const { person, pin, first } = walk.proving;
  const name = nameOf(walk.ctx.board, person);
  const set = (/** @type {string} */ text) => { walk.proving.pin = text.replace(/\D/g, "").slice(0, PIN_FIGURES); walk.screen.redraw(); };
  return walk.frame(sheet, `pin ${person}`, [
    walk.titleView(sheet, "PIN", true),
    h2({ class: "lead" }, first ? `${name} chooses a PIN of six figures and types it` : `${name} types their own PIN`),
    first ? p({ class: "fact" }, "Nobody else looks. What is signed here is marked: on one device.") : null,
    pad({ id: "pin", label: `${pin.length} of ${PIN_FIGURES} figures`, value: pin, hidden: true, set }),
  ], [
    div({ class: "row" }, tap({ words: "cancel", act: () => walk.show("line") })),
    tap({
      class: "main", off: pin.length !== PIN_FIGURES,
      words: first ? `THIS IS ${name.toUpperCase()}’S PIN` : `${name.toUpperCase()} ANSWERS`,
      act: () => (first ? setFirst(walk) : standsIn(walk)),
    }),
  ]);
}

/** Whoever typed their PIN answers the next lines. @param {Walk} walk */
function standsIn(walk) {
  const { person, pin } = walk.proving;
  walk.other = { person, pin };
  walk.proving = { person: "", pin: "" };
  walk.show("line");
}

/** A signer's first PIN, on the captain's device. @param {Walk} walk */
async function setFirst(walk) {
  const { person, pin } = walk.proving;
  if (await firstPin(walk.acts, person, pin)) standsIn(walk);
}

/** @param {Walk} walk @param {Sheet} sheet */
export function overPage(walk, sheet) {
  const next = openSheets(walk.ctx, sheet.robot).find((h) => h.id !== sheet.id);
  return walk.frame(sheet, "over", [
    walk.titleView(sheet, sheet.state === "unanswered" ? "ended" : "all answered"),
    h1({ class: "lead" },
      sheet.state === "unanswered"
        ? "This sheet ended when the robot left it. Its answers stay on record."
        : "Every line of this sheet is answered."),
    div({ class: "facts" }, robotFacts(walk.ctx, sheet.robot)),
    alarmsView(walk.ctx, "A"),
  ], [
    div({ class: "row" },
      tap({ words: "earlier answers", act: () => walk.show("earlier") }),
      walk.paperButton(),
      next ? tap({ words: `open ${listWords[next.list].toLowerCase()}`, act: () => walk.ctx.go(`#/sheet/${next.id}`) }) : null),
    walk.homeView(),
  ]);
}
