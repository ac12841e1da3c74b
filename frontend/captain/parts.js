// Captain: a robot's part map. What each part costs and weighs, how it is reached,
// what hangs on it alone, and the joints.

import { b, div, h2, h3, p, span, tap } from "../core/tags.js";
import { jointKind, partKind } from "./kinds.js";
import { nounActs } from "./lists.js";
import { about } from "./row.js";
import { byName, robotName, robots } from "../core/screen.js";
import { count, minutes, priceWords } from "../core/words.js";

/** @typedef {import("./captain.js").Captain} Captain */
/** @typedef {import("./kinds.js").Kind} Kind */
/** @typedef {import("../core/wire.d.ts").Part} Part */
/** @typedef {import("../core/wire.d.ts").WayIn} WayIn */

/** The robot that a list is about: the one named in the hash, or the first. @param {Captain} captain @param {string} tab */
export function whichRobot(captain, tab) {
  const all = robots(captain.ctx);
  const shown = all.find((r) => r.id === captain.about) ?? all[0];
  const choose = all.length < 2 ? null : div({ class: "choice-row" }, all.map((r) =>
    tap({ key: r.id, class: r === shown ? "here" : "", words: r.name, act: () => captain.ctx.go(`#/captain/${tab}/${r.id}`) })));
  return { shown, choose };
}

/** @param {Captain} captain */
export function partsView(captain) {
  const { shown, choose } = whichRobot(captain, "parts");
  if (!shown) return div({ class: "list" }, h2(null, "part map"), p({ class: "fact" }, "No robot on the board yet."));
  const parts = byName(captain.board.all("part").filter((n) => !n.retired && n.robot === shown.id));
  const joints = byName(captain.board.all("joint").filter((n) => !n.retired && n.robot === shown.id));
  const access = captain.board.get(`access/${shown.id}`);
  return div(
    { class: "list" },
    div({ class: "column-head" }, h2(null, "part map"), adds(captain, partKind, shown.id)),
    choose,
    parts.length ? null : p({ class: "fact" }, `${shown.name} has no part map. Everything else works without one.`),
    access ? [workView(access.work), aloneView(captain, access)] : null,
    assemblies(parts).map(([name, list]) => [
      h3({ key: `a ${name}` }, name || "no assembly"),
      list.map((part) => partView(captain, part, access?.parts.find((w) => w.part === part.id)?.way)),
    ]),
    parts.length < 2 ? null : [div({ class: "column-head" }, h2(null, "joints"), adds(captain, jointKind, shown.id)),
      joints.map((joint) => card(captain, jointKind, joint, [
        jointKind.says(joint), joint.parts.map((id) => captain.board.get(`part/${id}`)?.name).join(" – "),
        times(joint.offSec, joint.offBadSec, "to undo and fasten again"),
      ]))],
  );
}

/** A button that adds a noun of a robot. @param {Captain} captain @param {Kind} kind @param {string} robot */
export function adds(captain, kind, robot) {
  return tap({ words: `add a ${kind.one}`, act: () => captain.open({
    title: `A new ${kind.one} of ${robotName(captain.ctx, robot)}`, do: /** @type {any} */ (`${kind.kind}.add`), fields: kind.fields,
    from: { ...kind.fresh(), robot },
    says: `${kind.one} added`, undo: true,
  }) });
}

/**
 * A noun of a robot with its lines and the acts that all have.
 * @param {Captain} captain @param {Kind} kind @param {any} noun
 * @param {import("../core/tags.js").Children[]} lines @param {import("../core/tags.js").Children} [acts]
 */
export function card(captain, kind, noun, lines, acts) {
  return div(
    { class: "card", key: noun.id },
    p(null, b(null, noun.name)),
    lines.filter(Boolean).map((line, i) => p({ key: i, class: "fact" }, line)),
    div({ class: "card-acts" }, about(`${kind.one} ${noun.name}`, acts, nounActs(captain, kind, noun))),
  );
}

/** @param {Part[]} parts @returns {[string, Part[]][]} */
function assemblies(parts) {
  /** @type {Map<string, Part[]>} */
  const by = new Map();
  for (const part of parts) by.set(part.assembly ?? "", [...(by.get(part.assembly ?? "") ?? []), part]);
  return [...by].sort(([x], [y]) => x.localeCompare(y));
}

/** @param {Captain} captain @param {Part} part @param {WayIn | undefined} way */
function partView(captain, part, way) {
  const spare = part.stock ? captain.board.get(`stock/${part.stock}`) : undefined;
  const bends = captain.board.get(`bends/${part.robot}`)?.list.find((m) => m.part === part.id);
  const names = (part.next ?? []).map((id) => captain.board.get(`part/${id}`)?.name).filter(Boolean);
  return card(captain, partKind, part, [
    partKind.says(part),
    price(captain, part),
    spare
      ? [spare.count === 0 ? b(null, "no spare left") : `${spare.count} spare`, spare.where ? `, ${spare.where}` : ""]
      : "no spare kept",
    way?.off.length ? wayWords(way) : "reached at once",
    names.length ? `a hit runs into ${names.join(", ")}` : "",
    bends?.says ?? (part.bendMmPer100 ? `may be bent ${part.bendMmPer100} mm per 100 mm; not measured yet` : ""),
    (part.serves ?? []).map((v) => `${v.function} ${v.share} %`).join(" · "),
  ]);
}

/** @param {Captain} captain @param {Part} n */
function price(captain, n) {
  const list = (n.materialListCents ?? 0) + (n.machiningListCents ?? 0);
  const paid = (n.materialPaidCents ?? 0) + (n.machiningPaidCents ?? 0);
  return [
    list ? priceWords(captain.board, list, paid) : "",
    n.ownSec ? `${minutes(n.ownSec)} min of our own` : "",
    n.leadDays ? `${count(n.leadDays, "day")} to get` : "",
  ].filter(Boolean).join(" · ");
}

/** @param {number | undefined} likely @param {number | undefined} bad @param {string} words */
export const times = (likely, bad, words) => (likely ? `${minutes(likely)} min, bad case ${minutes(bad ?? likely)}, ${words}` : "");

/** @param {WayIn} way */
function wayWords(way) {
  return [
    `off first: ${way.off.join(", then ")}`,
    way.joints ? ` · ${count(way.joints, "joint")}${way.fasteners ? `, ${count(way.fasteners, "fastener")}` : ""}` : "",
    way.tools.length ? ` · ${way.tools.join(", ")}` : "",
    way.likelySec ? ` · ${minutes(way.likelySec)} min, bad case ${minutes(way.badSec)}` : "",
    way.untimed ? ` · ${way.untimed} of it without a time` : "",
    way.rough ? " · a cheaper way may exist" : "",
  ];
}

/** The one way to all open work. @param {WayIn} work */
function workView(work) {
  if (work.off.length === 0) return null;
  return div({ class: "card" },
    p(null, b(null, "To reach all open work")),
    p({ class: "fact" }, wayWords(work)),
    p({ class: "hint" }, "what jobs share comes off once"));
}

/** @param {Captain} captain @param {import("../core/wire.d.ts").Access} access */
function aloneView(captain, access) {
  if (access.alone.length === 0) return null;
  /** @type {Map<string, string[]>} */
  const by = new Map();
  for (const n of access.alone) by.set(n.function, [...(by.get(n.function) ?? []), captain.board.get(`part/${n.part}`)?.name ?? ""]);
  return div({ class: "card" }, p(null, b(null, "A whole function hangs on one part")),
    [...by].map(([name, parts]) => p({ key: name, class: "fact" }, span(null, `${name}: `), parts.join(", "))));
}
