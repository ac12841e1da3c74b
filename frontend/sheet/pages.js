// The pages of a sheet beside its line: who goes in first, the earlier answers, who
// else answers here, and the end.

import { ago, b, div, h1, h2, li, ol, p, tap } from "../core/tags.js";
import { listWords, nameOf } from "../core/words.js";
import { answerWords, isOpen, lastAnswer } from "./lines.js";
import { pad } from "../core/pad.js";
import { alarmsView, byName, leads, openSheets, robotFacts, robotHead, robotName } from "../core/screen.js";

/** @typedef {import("./sheet.js").Walk} Walk */
/** @typedef {import("../core/wire.d.ts").Line} Line */
/** @typedef {import("../core/wire.d.ts").Sheet} Sheet */
/** @typedef {import("../core/wire.d.ts").Answer} Answer */

/** How long the buttons of the next line stay inert, so that a double tap answers one line. */
export const REST_MS = 700;
const PIN_FIGURES = 6;

/** Asks one person to put their tag on, then to go in first. @param {Walk} walk @param {Sheet} sheet @param {Line} line */
export function firstInPage(walk, sheet, line) {
  const { board } = walk.ctx;
  const robot = robotName(walk.ctx, sheet.robot);
  const first = board.all("tag").find((t) => t.robot === sheet.robot);
  const closes = !first && leads(walk.ctx, sheet.robot) && board.get(`power/${sheet.robot}`)?.state === "verified";
  const closeUp = () => walk.closeUp(sheet.robot);
  return div(
    { class: "phone sheet" },
    robotHead(walk.ctx, sheet.robot),
    walk.titleView(sheet, `line ${sheet.lines.indexOf(line) + 1} of ${sheet.lines.length}`),
    div({ class: "question" },
      h1({ tabIndex: -1, ref: (el) => { walk.question = /** @type {HTMLElement | null} */ (el); } },
        first ? `${nameOf(board, first.person)} goes in first.` : "One goes in first, alone: you?"),
      p({ class: "touch" }, "then: ", b(null, line.ask))),
    div({ class: "facts" }, robotFacts(walk.ctx, sheet.robot)),
    walk.acts.view(),
    div({ class: "spring" }),
    div({ class: "answers", key: `first-${first?.id}` },
      div({ class: "row" },
        tap({ key: "home", words: "my next move", act: () => walk.ctx.go("#/me") }),
        closes ? tap({ key: "close", words: "covers stayed on: close up", restMs: REST_MS, act: closeUp }) : null),
      div({ class: "gap" }),
      first ? walk.homeView() : firstTag(walk, sheet.robot, robot)),
  );
}

/** @param {Walk} walk @param {string} robot @param {string} name */
function firstTag(walk, robot, name) {
  return tap({
    class: "main", words: `PUT MY TAG ON · ${name}`, restMs: REST_MS,
    act: () => walk.acts.ask({ do: "tag.on", with: { robot }, says: `my tag is on ${name}` }),
  });
}

/** @param {Walk} walk @param {Sheet} sheet */
export function earlierPage(walk, sheet) {
  const rows = sheet.lines.filter((line) => !isOpen(sheet, line) || lastAnswer(sheet, line));
  return div(
    { class: "phone sheet" },
    robotHead(walk.ctx, sheet.robot),
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
          a.paper ? ", on paper" : ""),
        sheet.state === "unanswered" || walk.nearOnly
          ? null
          : tap({ words: "answer again", act: () => { walk.again = line.id; walk.shown = ""; walk.show("line"); } }));
    })),
    div({ class: "spring" }),
    tap({ class: "main", words: "BACK TO THE SHEET", act: () => walk.show("line") }),
  );
}

/** @param {Walk} walk @param {Sheet} sheet */
export function personPage(walk, sheet) {
  const people = byName(walk.ctx.board.all("person").filter((p) => !p.retired && p.claimed && p.id !== walk.ctx.live.me?.person));
  return div(
    { class: "phone sheet" },
    robotHead(walk.ctx, sheet.robot),
    walk.titleView(sheet, "who answers?", true),
    people.length === 0 ? p({ class: "lead" }, "Nobody else has a PIN on this board yet: they join once on any device.") : null,
    div({ class: "choices" }, people.map((person) =>
      tap({
        key: person.id, class: "choice", words: person.name,
        act: () => { walk.proving = { person: person.id, pin: "" }; walk.show("pin"); },
      }))),
    div({ class: "spring" }),
    div({ class: "row" }, walk.paperButton()),
    div({ class: "gap" }),
    tap({ class: "main", words: "BACK TO THE SHEET", act: () => walk.show("line") }),
  );
}

/** @param {Walk} walk @param {Sheet} sheet */
export function pinPage(walk, sheet) {
  const { person, pin } = walk.proving;
  const set = (/** @type {string} */ text) => { walk.proving.pin = text.replace(/\D/g, "").slice(0, PIN_FIGURES); walk.screen.redraw(); };
  return div(
    { class: "phone sheet" },
    robotHead(walk.ctx, sheet.robot),
    walk.titleView(sheet, "PIN", true),
    h2({ class: "lead" }, `${nameOf(walk.ctx.board, person)} types their own PIN`),
    pad({ id: "pin", label: `${pin.length} of ${PIN_FIGURES} figures`, value: pin, hidden: true, set }),
    div({ class: "spring" }),
    div({ class: "row" }, tap({ words: "leave it", act: () => walk.show("line") })),
    div({ class: "gap" }),
    tap({
      class: "main", words: `${nameOf(walk.ctx.board, person).toUpperCase()} ANSWERS`, off: pin.length !== PIN_FIGURES,
      act: () => { walk.other = walk.proving; walk.proving = { person: "", pin: "" }; walk.show("line"); },
    }),
  );
}

/** @param {Walk} walk @param {Sheet} sheet */
export function overPage(walk, sheet) {
  const next = openSheets(walk.ctx, sheet.robot).find((h) => h.id !== sheet.id);
  return div(
    { class: "phone sheet" },
    robotHead(walk.ctx, sheet.robot),
    walk.titleView(sheet, sheet.state === "unanswered" ? "ended" : "all answered"),
    h1({ class: "lead" },
      sheet.state === "unanswered"
        ? "This sheet ended when the robot left it. Its answers stay on record."
        : "Every line of this sheet is answered."),
    div({ class: "facts" }, robotFacts(walk.ctx, sheet.robot)),
    alarmsView(walk.ctx, "A"),
    walk.acts.view(),
    div({ class: "spring" }),
    div({ class: "row" },
      tap({ words: "earlier answers", act: () => walk.show("earlier") }),
      walk.paperButton(),
      next ? tap({ words: `open ${listWords[next.list].toLowerCase()}`, act: () => walk.ctx.go(`#/sheet/${next.id}`) }) : null),
    div({ class: "gap" }),
    walk.homeView(),
  );
}
