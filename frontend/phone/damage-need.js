// Damage, the second step and the third: what it needs; then all that the report says,
// preset where it can be, each to be changed.

import { div, h2, tap } from "../core/tags.js";
import { bendView } from "./damage-bend.js";
import { gradeWords, grades } from "../core/words.js";
import { leads } from "../core/screen.js";
import { photoButtons } from "./damage-photo.js";
import { nextView, partsOfGroup, pctView } from "./damage-where.js";

/** @typedef {import("./damage.js").Report} Report */

/** @type {["glancing" | "solid" | "hard", string][]} */
const severities = [["glancing", "glancing"], ["solid", "solid"], ["hard", "hard"]];

/** @param {Report} on */
export function needPage(on) {
  return on.frame(on.part,
    [
      div({ class: "choices needs", role: "group" }, grades.map(([grade, words]) => tap({
        key: grade, class: on.typed.grade === grade ? "choice chosen" : "choice", words,
        act: () => { on.typed.grade = grade; on.show("report"); },
      }))),
      bendView(on),
    ],
    on.foot(on.reportButton(), "where"));
}

/** @param {Report} on */
export function reportPage(on) {
  return on.frame("Report it",
    [
      div({ class: "choices tiles" },
        tap({ key: "where", words: on.part, label: `${on.part}: another part`, act: () => on.show("where") }),
        tap({ key: "need", words: gradeWords(on.typed.grade ?? ""), act: () => on.show("need") })),
      partsOfGroup(on),
      bendView(on),
      photoButtons(on),
      hitView(on),
      on.field("what", "what is wrong with it"),
      h2(null, "stuck?"),
      div({ class: "choices" },
        on.flip("stuck", "jammed, will not come apart"),
        on.flip("destroyed", "broke when taken out")),
      pctView(on),
      nextView(on),
    ],
    [
      mayAccept(on) ? div({ class: "row" }, tap({ words: "report, and I accept it", act: () => on.report(true) })) : null,
      on.foot(on.reportButton()),
    ]);
}

/** Small damage on a robot that this person leads: they may say at once that it stays as it is. @param {Report} on */
const mayAccept = (on) => ["G1", "G2"].includes(on.typed.grade ?? "") && leads(on.ctx, on.robot);

/** @param {Report} on */
function hitView(on) {
  if (on.fights.length === 0) return null;
  const hits = Array.from({ length: 6 }, (_, i) => /** @type {const} */ ([String(i + 1), `hit ${i + 1}`]));
  return [
    h2(null, "from which fight"),
    on.choice(
      "fight",
      on.fights.slice(0, 4).map((f) => /** @type {const} */ ([f.id, `fight ${f.number}${f.opponent ? `, ${f.opponent}` : ""}`])),
    ),
    on.typed.fight
      ? [
        h2(null, "which hit of it"),
        on.choice("hit", hits, "choices three"),
        h2(null, "how hard"),
        on.choice("severity", severities, "choices three"),
      ]
      : null,
  ];
}
