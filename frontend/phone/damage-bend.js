// A bend, measured: the widest gap under a straightedge and the length it lies on. The
// board says what that is beside the part's limit and its last measurement, and which
// grade it proposes.

import { div, input, label, p, tap } from "../core/tags.js";
import { gradeWords } from "../core/words.js";
import { padKeys } from "../core/pad.js";
import { partOf } from "./damage-where.js";

/** @typedef {import("./damage.js").Report} Report */

/** What the board says of the part's last measurement. @param {Report} on */
const now = (on) => on.board.get(`bends/${on.robot}`)?.list.find((m) => m.part === partOf(on)?.id);

/** The last measurement, and the way to the next. @param {Report} on */
export function bendView(on) {
  if (!partOf(on)) return null;
  const last = now(on);
  return [
    tap({ key: "measure", words: "bent? measure it", act: () => on.measure() }),
    last ? p({ key: "last", class: "fact" }, last.says) : null,
    last?.grade && on.measured
      ? p({ key: "proposes", class: "not-yet" }, `The board proposes: ${gradeWords(last.grade)}.`)
      : null,
  ];
}

/** How many measurements of the part the board knows. @param {Report} on */
const measuredSo = (on) => now(on)?.said ?? 0;

/** Takes the grade that a new measurement proposes, once. @param {Report} on */
export function takeProposal(on) {
  if (!on.awaits || measuredSo(on) <= on.before) return;
  on.awaits = false;
  const grade = now(on)?.grade;
  if (!grade || on.typed.grade) return;
  on.typed.grade = grade;
  if (on.page === "need") on.page = "report";
}

/** Neither empty nor "0.6.1". @param {string} text */
const isFigure = (text) => text !== "" && !Number.isNaN(Number(text));

/** @param {Report} on */
export function bendPage(on) {
  const { gap = "", over = "", at = "gap" } = on.typed;
  const value = at === "gap" ? gap : over;
  /** @param {string} name @param {string} words @param {string} text */
  const field = (name, words, text) => div({ class: name === at ? "cell here" : "cell", key: name },
    label({ for: name }, words),
    input({
      id: name, type: "text", inputMode: "none", autoComplete: "off", value: text,
      onFocus: () => at !== name && on.type("at", name),
      onInput: (e) => on.type(name, e.currentTarget.value.replace(",", ".").replace(/[^\d.]/g, "")),
    }));
  const limit = partOf(on)?.bendMmPer100;
  const open = !isFigure(gap) ? "WHICH GAP?" : Number(over) > 0 ? "" : "OVER WHICH LENGTH?";
  return on.frame(on.part,
    [
      div({ class: "cells two", key: "figures" }, field("gap", "widest gap, mm", gap), field("over", "length, mm", over)),
      padKeys(value, (text) => on.type(at, text), true),
      p({ class: "hint" }, "Straightedge on the hollow side, end to end."
        + (limit ? ` At most ${limit} mm per 100 mm.` : " Nobody said how bent it may be.")),
    ],
    on.foot(at === "gap" && isFigure(gap)
      ? tap({ key: "length", class: "main goes", words: "OVER WHICH LENGTH?", act: () => on.type("at", "over") })
      : tap({
        key: "measured", class: "main", off: open !== "", words: open ? `MEASURED: ${open}` : "MEASURED",
        figure: open ? undefined : `${gap} mm over ${over} mm`,
        act: () => measured(on, Number(gap), Number(over)),
      }), on.typed.grade ? "report" : "need"));
}

/** @param {Report} on @param {number} gapMm @param {number} overMm */
async function measured(on, gapMm, overMm) {
  const part = partOf(on);
  if (!part) return;
  const before = measuredSo(on);
  const answer = await on.acts.ask({ do: "part.bend", with: { part: part.id, gapMm, overMm }, says: `measured: ${part.name}`, undo: true });
  if (answer.refusal) return;
  on.before = before;
  on.awaits = on.measured = true;
  on.typed.gap = on.typed.over = "";
  on.show(on.typed.grade ? "report" : "need");
}
