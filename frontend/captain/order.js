// Captain: the running order.

import { ago, div, h2, h3, p, tap } from "../core/tags.js";
import { fightFields } from "./fields.js";
import { about, folded, row } from "./row.js";
import { foreseen, minutes, nameOf, robotOf } from "../core/words.js";
import { sawOf } from "../core/screen.js";

/** @typedef {import("./captain.js").Captain} Captain */
/** @typedef {import("../core/wire.d.ts").Fight} Fight */
/** @typedef {import("./fields.js").Option} Option */

/** @type {Option[]} */
const results = [
  ["won", "won"], ["lost", "lost"], ["drawn", "drawn"], ["forfeited", "forfeited from the bench"], ["won-by-forfeit", "won by forfeit"],
];

/** @param {Captain} captain */
export function orderView(captain) {
  const fights = captain.board.all("fight").filter((f) => f.state !== "dropped").sort((x, y) => x.number - y.number);
  const arenas = [...new Set([...fights.map((f) => f.arena), ...captain.board.all("sighting").map((s) => s.arena)])].sort();
  return div(
    { class: "list" },
    div({ class: "column-head" }, h2(null, "running order"), tap({ words: "add a fight", act: () => captain.open({
      title: "A fight of ours", do: "fight.add", fields: fightFields, from: { arena: arenas[0] ?? "", number: undefined },
      says: "fight added", undo: true,
    }) })),
    arenas.length ? null : p({ class: "fact" }, "No fight of ours is entered yet. Only ours need to be."),
    arenas.map((arena) => [arenaHead(captain, arena), arenaFights(captain, fights.filter((f) => f.arena === arena))]),
  );
}

/**
 * Those to come, the next first, then those a promised gap runs from; the rest is folded.
 * @param {Captain} captain
 * @param {Fight[]} fights
 */
function arenaFights(captain, fights) {
  const done = fights.filter((f) => f.state === "done");
  const past = done.filter((f) => !lastOf(captain, f));
  const now = [...fights.filter((f) => f.state !== "done"), ...done.filter((f) => !past.includes(f))];
  return div({ class: "rows" },
    now.map((f) => fightView(captain, f)),
    past.length
      ? folded(captain, `fought ${past[0].arena}`, `${past[0].arena}: fought · ${past.length}`,
        () => past.map((f) => fightView(captain, f)))
      : null);
}

/** @param {Captain} captain @param {string} arena */
function arenaHead(captain, arena) {
  const last = captain.board.all("sighting")
    .filter((s) => s.arena === arena)
    .sort((x, y) => (x.at < y.at || (x.at === y.at && x.number < y.number) ? 1 : -1))[0];
  return div(
    { class: "arena", key: arena },
    h3(null, arena),
    p({ class: "fact" },
      last
        ? [`fight ${last.number} was on `, ago({ since: last.at }), ` ago, says ${nameOf(captain.board, last.by)}`]
        : "nobody has said which fight is on"),
    div({ class: "card-acts" }, about(arena,
      last
        ? tap({
          words: `${last.number + 1} is on now`,
          act: () => captain.acts.ask({
            do: "fight.now", with: { arena, number: last.number + 1 }, says: `${arena}: fight ${last.number + 1} is on now`, undo: true,
          }),
        })
        : null,
      tap({ words: "another is on now", act: () => captain.open({
        title: `${arena}: which fight is on now?`, do: "fight.now", from: {}, also: { arena }, says: `${arena}: that fight is on now`,
        undo: true,
        fields: [{ name: "number", label: "place in the running order", type: "whole" }],
      }) }))),
  );
}

/** @param {Captain} captain @param {Fight} fight */
function fightView(captain, fight) {
  const seen = sawOf(captain.ctx, `fight/${fight.id}`);
  const after = fight.after ? captain.board.get(`fight/${fight.after}`) : undefined;
  const gap = lastOf(captain, fight) ? pauseAct(captain, fight, seen) : null;
  const result = resultAct(captain, fight, seen);
  return row(captain, {
    id: fight.id,
    name: `${fight.number} · ${robotOf(captain.board, fight.robot)}${fight.opponent ? ` v ${fight.opponent}` : ""}`,
    says: [
      fight.result ? results.find(([r]) => r === fight.result)?.[1] : fight.state === "on" ? "on now" : "to come",
      foreseen(captain.ctx, fight),
      after ? `only if ${after.number} is ${fight.if}` : "",
      fight.notBefore ? `not before ${captain.ctx.clock.hhmm(fight.notBefore)}` : "",
      fight.postponed?.at ? `postponed by ${minutes(fight.postponed.sec)} min` : "",
      ...(fight.pauses ?? []).map((x) =>
        `the officials had it from ${captain.ctx.clock.hhmm(x.from)}${x.to ? ` to ${captain.ctx.clock.hhmm(x.to)}` : ""}`),
    ].filter(Boolean).join(" · "),
    verb: gap ?? result,
    rest: () => div({ class: "card-acts" }, about(`fight ${fight.number} in ${fight.arena}`,
      gap ? result : null,
      fight.result || fight.state === "on" ? tap({ words: "it was not fought", act: () => captain.open({
        title: `Fight ${fight.number} is still to come`, do: "fight.not-fought", from: { reason: "" }, also: { fight: fight.id }, seen,
        says: `fight ${fight.number} is still to come`, fields: [{ name: "reason", label: "why, for the review", type: "text" }],
        warns: "Its robot stays as it is; what was inspected before counts again.",
      }) }) : null,
      fight.state === "planned" ? plannedActs(captain, fight, seen) : null,
      tap({ words: "change", act: () => captain.open({
        title: `Change fight ${fight.number}`, do: "fight.change", fields: fightFields, from: fight, also: { fight: fight.id }, seen,
        says: `changed ${fight.number}`, undo: true,
      }) }))),
  });
}

/** @param {Captain} captain @param {Fight} fight @param {Record<string, number>} seen */
const resultAct = (captain, fight, seen) => tap({
  key: "result", words: fight.state === "done" ? "correct the result" : "result",
  act: () => captain.open({
    title: `How did fight ${fight.number} end?`, do: "fight.end", from: { result: fight.result }, also: { fight: fight.id }, seen,
    says: `result of ${fight.number}`, undo: true,
    fields: [{ name: "result", label: "result", type: "choice", options: results }],
    warns: fight.state === "done" ? undefined : "A robot that fought is unknown afterwards, with its packs in it.",
  }),
});

/** @param {Captain} captain @param {Fight} fight @param {Record<string, number>} seen */
const plannedActs = (captain, fight, seen) => [
  tap({ key: "move", words: "move", act: () => captain.open({
    title: `Move fight ${fight.number}`, do: "fight.move", from: fight, also: { fight: fight.id }, seen, says: `moved ${fight.number}`,
    undo: true,
    fields: fightFields.filter((f) => ["arena", "number", "notBefore"].includes(f.name)),
  }) }),
  tap({
    key: "drop", words: "drop",
    act: () => captain.acts.ask({ do: "fight.drop", with: { fight: fight.id }, seen, says: `dropped fight ${fight.number}`, undo: true }),
  }),
];

/** The robot's last fight: the promised gap runs from it. @param {Captain} captain @param {Fight} fight */
const lastOf = ({ board }, fight) => fight.state === "done" && board.get("event/event")?.restSec
  && !board.all("fight").some((f) => f.robot === fight.robot && f.state === "done" && (f.endAt ?? "") > (fight.endAt ?? ""));

/**
 * The gap does not run while the officials have the robot.
 * @param {Captain} captain
 * @param {Fight} fight
 * @param {Record<string, number>} seen
 */
function pauseAct(captain, fight, seen) {
  const open = (fight.pauses ?? []).find((x) => !x.to);
  return tap({
    key: "pause", words: open ? "it is back from them" : "the officials have it",
    act: () => captain.acts.ask({
      do: "fight.pause",
      with: { fight: fight.id, from: open ? open.from : captain.ctx.clock.wire(), ...(open ? { to: captain.ctx.clock.wire() } : {}) },
      seen, undo: true, says: open ? "the gap runs again" : "the gap stands still",
    }),
  });
}
