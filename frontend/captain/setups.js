// Captain: what each robot weighs in each of its setups, before anything is
// unbolted; what is on; what is left of the modules; the scale.

import { b, div, h2, p, span, tap } from "../core/tags.js";
import { moduleKind, setupKind } from "./kinds.js";
import { adds, card, times, whichRobot } from "./parts.js";
import { byName, sawOf } from "../core/screen.js";
import { count, minutes } from "../core/words.js";

/** @typedef {import("./captain.js").Captain} Captain */
/** @typedef {import("../core/wire.d.ts").Setups} Setups */
/** @typedef {import("../core/wire.d.ts").SetupNow} SetupNow */
/** @typedef {import("../core/wire.d.ts").Robot} Robot */

/** @param {Captain} captain */
export function setupsView(captain) {
  const { shown, choose } = whichRobot(captain, "setups");
  if (!shown) return div({ class: "list" }, h2(null, "setups"), p({ class: "fact" }, "No robot on the board yet."));
  const all = captain.board.get(`setups/${shown.id}`);
  const modules = byName(captain.board.all("module").filter((m) => !m.retired && m.robot === shown.id));
  return div(
    { class: "list" },
    div({ class: "column-head" }, h2(null, "setups and weight"), adds(captain, setupKind, shown.id)),
    choose,
    nowView(captain, shown, all),
    (all?.list ?? []).map((one) => setupView(captain, shown, one, all)),
    all?.differPct ? p({ class: "hint" }, `The declared setups differ by at most ${all.differPct} % of the limit.`) : null,
    div({ class: "column-head" }, h2(null, "modules"), adds(captain, moduleKind, shown.id)),
    modules.length ? null : p({ class: "fact" }, "none yet: enter what goes into the robot’s slots, with its mass"),
    modules.map((m) => card(captain, moduleKind, m, [
      moduleKind.says(m), times(m.swapSec, m.swapBadSec, "to put it on"), wear(m.lasts, m.worn ?? 0),
    ], m.worn
      ? tap({
        words: "a new one in its place",
        act: () => captain.acts.ask({ do: "module.renew", with: { module: m.id }, says: `${m.name}: a new one`, undo: true }),
      })
      : null)),
  );
}

/** @param {number | undefined} lasts @param {number} worn */
const wear = (lasts, worn) => `${count(worn, "fight")} on it${lasts ? `, good for ${lasts}` : ""}`;

/** A mass and how it stands to the limit. @param {import("../core/wire.d.ts").Weight} w */
const weightView = (w) => b({ class: `weight weighs-${w.word}` }, w.text);

/** Grams as people read them off a scale. @param {number} g */
const massWords = (g) => (g >= 10_000 ? `${(g / 1000).toFixed(2)} kg` : `${g} g`);

/** What is on, what it weighs, and the last reading. @param {Captain} captain @param {Robot} robot @param {Setups | undefined} all */
function nowView(captain, robot, all) {
  const on = all?.list.find((u) => u.setup === all.on);
  const read = all?.weighed;
  return div({ class: "card" },
    p(null,
      b(null, "on now: "),
      on?.name ?? (all?.modules.length ? all.modules.map((id) => captain.board.get(`module/${id}`)?.name).join(", ") : "nobody has said")),
    all ? p(null, weightView(all.now), span({ class: "fact" }, ` · limit ${all.limit}`)) : null,
    read
      ? p({ class: "fact" },
        `weighed ${massWords(read.grams)}${read.scale ? ` on ${read.scale}` : ""}` +
          `${read.stepGrams ? `, in steps of ${read.stepGrams} g` : ""}, ${captain.ctx.clock.hhmm(read.at)}` +
          `${read.by ? ` by ${read.by}` : ""}`)
      : p({ class: "fact" }, all?.now.basis === "parts" ? "never weighed here: added up from the part map" : "never weighed here"),
    read?.stale ? p({ class: "stale-weight" }, `WEIGH AGAIN: ${read.stale}`) : null,
    all?.warns?.map((words) => p({ key: words, class: "stale-weight" }, words)),
    div({ class: "card-acts" }, tap({ words: "enter a reading", act: () => captain.open({
      title: `What does the scale read of ${robot.name}?`, do: "robot.weigh",
      from: { scale: read?.scale ?? "", stepGrams: read?.stepGrams }, also: { robot: robot.id },
      says: `${robot.name} weighed`, fields: [
        { name: "grams", label: "it reads, as it stands now", type: "number", unit: "g" },
        { name: "scale", label: "which scale", type: "text" },
        { name: "stepGrams", label: "the step it shows", type: "number", unit: "g" },
      ],
    }) })));
}

/** @param {Captain} captain @param {Robot} robot @param {SetupNow} one @param {Setups | undefined} all */
function setupView(captain, robot, one, all) {
  const noun = captain.board.get(`setup/${one.setup}`);
  if (!noun) return null;
  const on = all?.on === one.setup;
  return card(captain, setupKind, noun, [
    [
      weightView(one.weight),
      one.weight.word === "unknown" ? "" : ` · ${massWords(one.weight.grams)}`,
      one.weight.overPct ? ` · ${one.weight.overPct} % of the limit` : "",
    ],
    on
      ? b(null, "ON THE ROBOT")
      : one.likelySec
      ? `${minutes(one.likelySec)} min to change to it, bad case ${minutes(one.badSec)}`
      : one.untimed
      ? "no time entered for the swap"
      : "",
    one.setup === all?.heaviest
      ? b(null, "heaviest declared: this one rules the weigh-in")
      : one.declared
      ? "declared"
      : "not declared to the officials",
    one.modules.map((m) =>
      `${m.name} ${m.grams} g${m.left === undefined ? "" : m.left > 0 ? `, ${count(m.left, "fight")} left` : ", worn out"}`).join(" · "),
    one.against.length ? `against ${one.against.join(", ")}` : "",
    one.record.map((r) =>
      `${r.kind || "kind not said"}: won ${r.won}, lost ${r.lost}${r.drawn ? `, drawn ${r.drawn}` : ""} (n = ${r.n})`).join(" · "),
    one.notNeeded.length ? `does without ${one.notNeeded.join(", ")}` : "",
    one.notes ?? "",
  ], on
    ? null
    : tap({
      words: "this one is on now",
      act: () => captain.acts.ask({
        do: "robot.fit", with: { robot: robot.id, setup: one.setup }, seen: sawOf(captain.ctx, `setup/${one.setup}`),
        says: `${robot.name}: ${one.name}`,
      }),
    }));
}
