// The lines of a sheet: which are open, and what was answered, in their own words.

import { nameOf, placeOf } from "../core/words.js";

/** @typedef {import("../core/ctx.d.ts").Ctx} Ctx */
/** @typedef {import("../core/wire.d.ts").Line} Line */
/** @typedef {import("../core/wire.d.ts").Sheet} Sheet */
/** @typedef {import("../core/wire.d.ts").Answer} Answer */

/**
 * The answer that stands for a line; "no" leaves it open, what is only on record answers
 * nothing.
 * @param {Sheet} sheet
 * @param {Line} line
 */
export const lastAnswer = (sheet, line) => [...(sheet.answers ?? [])].reverse().find((a) => a.line === line.id && !a.record);

/** The newest answer that a line has on paper. @param {Sheet} sheet @param {Line} line */
export const onPaper = (sheet, line) => [...(sheet.answers ?? [])].reverse().find((a) => a.line === line.id && a.paper);

/** @param {Sheet} sheet @param {Line} line */
export const isOpen = (sheet, line) => (lastAnswer(sheet, line)?.said ?? "no") === "no";

/** What an answer said, in the line's own words. @param {Ctx} ctx @param {Line} line @param {Answer} a */
export function answerWords(ctx, line, a) {
  switch (a.said) {
    case "no": return line.not ?? "not";
    case "not-fitted": return a.standing ? "not fitted, as said earlier today" : "not fitted";
    case "suspect": return "set aside";
    case "owed": return "owed to the officials";
    case "alone": return "nobody else at the bench";
  }
  if (line.kind === "number") return `${line.say} ${a.number ?? 0} ${line.unit ?? ""}${a.sure ? ", said again" : ""}`.trim();
  if (a.place) return `${line.say}, ${placeOf(ctx.board, a.place)}`;
  if (a.pack) return `${line.say}, ${ctx.board.get(`pack/${a.pack}`)?.name ?? ""}`;
  if (a.choice) return `${line.say}: ${a.choice}`;
  if (a.told) return `${line.say}, ${nameOf(ctx.board, a.told)}`;
  return line.say;
}

/** The unit of a figure with its limits. @param {Line} line */
export function unitWords(line) {
  const most = line.unit === "g" ? Math.floor(line.most ?? 0) : line.most;
  if (!most) return `in ${line.unit ?? ""}`;
  return line.least ? `${line.least} to ${most} ${line.unit}` : `at most ${most} ${line.unit}`;
}
