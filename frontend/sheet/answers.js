// The buttons under a line of a sheet, by what it is answered with.

import { REST_MS, div, hold, p, tap } from "../core/tags.js";
import { leftWords } from "../core/clock.js";
import { choicesOf } from "./choices.js";
import { unitWords } from "./lines.js";
import { leads } from "../core/screen.js";
import { pad } from "../core/pad.js";

/** @typedef {import("./sheet.js").Walk} Walk */
/** @typedef {import("../core/wire.d.ts").Line} Line */
/** @typedef {import("../core/wire.d.ts").Sheet} Sheet */

/** How often the page counts down what has to come to rest. */
const REST_LOOK_MS = 500;

/**
 * What a line is answered with: choices and keys stand under its question, buttons at
 * the page's foot.
 * @typedef {{answers?: import("../core/tags.js").Children, foot: import("../core/tags.js").Children}} Answers
 */

/** @param {Walk} walk @param {Sheet} sheet @param {Line} line @returns {Answers} */
export function answersOf(walk, sheet, line) {
  if (walk.nearOnly) return noAnswers(walk, sheet, line);
  const small = smallButtons(walk, sheet, line);
  const row = div({ class: "row" }, small);
  const choices = choicesOf(walk.ctx, sheet, line, walk.me);
  if (choices) {
    const answers = div({ class: "choices" }, choices.map(([of, words, more]) =>
      button(walk, sheet, line, {
        key: of, class: "choice", words, restMs: REST_MS, act: () => walk.answer(sheet, line, "done", more),
      })));
    return { answers, foot: row };
  }
  const strip = line.kind === "proof" ? walk.ctx.board.get(`strip/${sheet.robot}`) : undefined;
  if (strip?.unproven) {
    return {
      answers: p({ class: "hint" }, "No test and no fight since hands were last on what it rests on: it is not proven yet."),
      foot: [
        row,
        strip.mayOwe ? tap({ class: "main", words: "owed to the officials", act: () => walk.answer(sheet, line, "owed") }) : null,
      ],
    };
  }
  const rest = restOf(walk, sheet, line);
  if (rest) {
    const words = `${line.say} in ${leftWords(Date.parse(rest.at) - walk.ctx.clock.now())}`;
    return { foot: [row, tap({ class: "main resting", words, off: true, act: () => {} })] };
  }
  if (line.kind === "number") {
    return {
      answers: [numberView(walk, line), div({ class: "row" }, small, walk.otherButton("someone else, or paper"))],
      foot: numberButton(walk, sheet, line),
    };
  }
  const main = button(walk, sheet, line, { class: "main", words: line.say, act: () => walk.answer(sheet, line, "done") });
  return line.kind === "look" ? { answers: asideButton(walk, sheet, line), foot: main } : { foot: [row, main] };
}

/**
 * The button of an answer that fills its line: held where the line verifies or signs.
 * @param {Walk} walk
 * @param {Sheet} sheet
 * @param {Line} line
 * @param {import("../core/tags.js").ButtonProps & {key?: string}} props
 */
function button(walk, sheet, line, props) {
  return line.verifies || line.kind === "sign"
    ? hold({ ...props, robot: walk.ctx.board.get(`robot/${sheet.robot}`)?.name ?? "" })
    : tap(props);
}

/**
 * What still has to come to rest before a line may be answered, by the board's moment; the
 * page counts it down.
 * @param {Walk} walk
 * @param {Sheet} sheet
 * @param {Line} line
 */
function restOf(walk, sheet, line) {
  clearInterval(walk.resting);
  const { board, clock } = walk.ctx;
  const rests = walk.paper.at ? undefined : board.get(`strip/${sheet.robot}`)?.rests;
  const rest = rests?.find((r) => r.sheet === sheet.id && r.line === line.id);
  if (!rest || Date.parse(rest.at) <= clock.now()) return null;
  walk.resting = setInterval(() => walk.screen.redraw(), REST_LOOK_MS);
  return rest;
}

/** For whoever may look and not answer. @param {Walk} walk @param {Sheet} sheet @param {Line} line @returns {Answers} */
function noAnswers(walk, sheet, line) {
  const { me } = walk.ctx.live;
  return {
    answers: p({ class: "lead" },
      `${me?.name || "This phone"} may read this and answers no line. Ask one of the crew; say so if you see anything.`),
    foot: [div({ class: "row" }, foundButton(walk, sheet, line)), walk.homeView()],
  };
}

/**
 * From a line of the inspection to a report of what was found there, and back.
 * @param {Walk} walk
 * @param {Sheet} sheet
 * @param {Line} line
 */
function foundButton(walk, sheet, line) {
  return sheet.list === "inspect"
    ? tap({
      key: "found", words: "found something", restMs: REST_MS, act: () => walk.ctx.go(`#/damage/${sheet.robot}//${sheet.id}/${line.id}`),
    })
    : null;
}

/** A pack that does not look as it should is set aside for good. @param {Walk} walk @param {Sheet} sheet @param {Line} line */
function asideButton(walk, sheet, line) {
  const pack = walk.ctx.board.get(`pack/${line.pack}`)?.name ?? "pack";
  return hold({
    key: "aside", class: "for-good", robot: pack, words: `${line.not ?? "not"}: ${pack}`, restMs: REST_MS,
    act: () => walk.answer(sheet, line, "suspect"),
  });
}

/** @param {Walk} walk @param {Sheet} sheet @param {Line} line */
function smallButtons(walk, sheet, line) {
  const words = line.not ?? "not";
  const strip = walk.ctx.board.get(`strip/${sheet.robot}`);
  const owed = line.kind === "proof" && strip?.mayOwe && !strip.unproven;
  const unread = line.kind === "sign" || line.kind === "pack"
    ? walk.ctx.board.all("pack").filter((pack) => !pack.retired && pack.robot === sheet.robot && pack.unread)
    : [];
  return [
    foundButton(walk, sheet, line),
    tap({ key: "no", words, restMs: REST_MS, act: () => walk.answer(sheet, line, "no") }),
    line.notFitted
      ? button(walk, sheet, line, {
        key: "not-fitted", words: "not fitted", restMs: REST_MS, act: () => walk.answer(sheet, line, "not-fitted"),
      })
      : null,
    owed ? tap({ key: "owed", words: "owed to the officials", restMs: REST_MS, act: () => walk.answer(sheet, line, "owed") }) : null,
    line.kind === "proof" && leads(walk.ctx, sheet.robot)
      ? tap({ key: "test", words: "test it with power", restMs: REST_MS, act: () => walk.ctx.go(`#/me/test/${sheet.robot}`) })
      : null,
    unread.map((pack) =>
      tap({ key: `read ${pack.id}`, words: `read ${pack.name}`, restMs: REST_MS, act: () => walk.ctx.go(`#/me/read/${pack.id}`) })),
  ];
}

/** The unit stands in the question, the figure in the main button. @param {Walk} walk @param {Line} line */
function numberView(walk, line) {
  const set = (/** @type {string} */ text) => { walk.number = text; walk.asked = ""; walk.screen.redraw(); };
  return pad({ id: "number", label: unitWords(line), unseen: true, value: walk.number, point: true, set });
}

/** @param {Walk} walk @param {Sheet} sheet @param {Line} line */
function numberButton(walk, sheet, line) {
  const n = Number(walk.number);
  const ready = walk.number !== "" && !Number.isNaN(n);
  if (walk.asked) {
    return hold({
      class: "main", robot: walk.ctx.board.get(`robot/${sheet.robot}`)?.name ?? "", words: "YES",
      figure: `${walk.number} ${line.unit ?? ""}`,
      act: () => walk.answer(sheet, line, "done", { number: n, sure: true }),
    });
  }
  return button(walk, sheet, line, {
    class: "main", words: line.say, figure: ready ? `${walk.number} ${line.unit ?? ""}` : "…", off: !ready,
    act: () => walk.answer(sheet, line, "done", { number: n }),
  });
}
