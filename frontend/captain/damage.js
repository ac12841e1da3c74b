// Captain: damage of a robot that waits for someone's word, a row each.

import { div, h3, tap } from "../core/tags.js";
import { gradeWords } from "../core/words.js";
import { jobFields, whyUnlocked } from "./fields.js";
import { row } from "./row.js";

/** @typedef {import("./captain.js").Captain} Captain */
/** @typedef {import("../core/wire.d.ts").DamageNow} DamageNow */

/** @param {Captain} captain @param {string} robot */
export function damageView(captain, robot) {
  const list = (captain.board.get(`strip/${robot}`)?.damage ?? []).filter((d) => d.asks && d.asks !== "mend");
  if (list.length === 0) return null;
  return div({ class: "jobs" }, h3(null, `damage · ${list.length}`), list.map((d) => damageRow(captain, robot, d)));
}

/** @param {Captain} captain @param {string} robot @param {DamageNow} d */
function damageRow(captain, robot, d) {
  const open = tap({ key: "open", words: "open it", act: () => captain.ctx.go(`#/me/standing/${d.damage}`) });
  const job = tap({ key: "job", words: "make a job of it", act: () => captain.open({
    title: "A new job", do: "job.add", fields: [...jobFields, whyUnlocked], from: { robot, damages: [d.damage], reason: "" },
    says: "job added", undo: true,
  }) });
  const [verb, rest] = d.asks === "job" ? [job, open] : [open, d.asks === "accept" ? job : null];
  return row(captain, {
    id: d.damage, name: `damage ${d.says}`, says: gradeWords(d.grade), verb, rest: () => div({ class: "card-acts" }, rest),
  });
}
