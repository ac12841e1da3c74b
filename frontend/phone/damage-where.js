// Damage, the first step: where it is. The robot's own assemblies and parts, or the
// five groups of the inspection where it has no part map; what the hit ran into next.

import { div, h2, p, tap } from "../core/tags.js";
import { byName } from "../core/screen.js";

/** @typedef {import("./damage.js").Report} Report */

/** The groups of the inspection by its lines. @type {Record<string, string>} */
export const groups = {
  weapon: "Weapon", frame: "Frame", drive: "Drive", electrics: "Electrics", lock: "Armour, fasteners, lock",
};

/** @param {Report} on */
const parts = (on) => byName(on.board.all("part").filter((n) => !n.retired && n.robot === on.robot));

/** @param {Report} on */
const joints = (on) => byName(on.board.all("joint").filter((n) => !n.retired && n.robot === on.robot));

/** The part on the map whose name was typed or chosen. @param {Report} on */
export const partOf = (on) => parts(on).find((n) => n.name.toLowerCase() === on.part.toLowerCase());

/** What a report says of the map. @param {Report} on */
export function onMap(on) {
  const part = partOf(on);
  if (part) return { onPart: part.id };
  const joint = joints(on).find((n) => n.name.toLowerCase() === on.part.toLowerCase());
  return joint ? { onJoint: joint.id } : {};
}

/** @param {{assembly?: string}} part */
const assemblyOf = (part) => part.assembly || "other";

/** @param {Report} on */
export function wherePage(on) {
  const all = parts(on);
  const assemblies = [...new Set(all.map(assemblyOf))].sort();
  const tile = (/** @type {string} */ name, /** @type {() => void} */ act) => tap({ key: name, class: "choice", words: name, act });
  return on.frame("What is damaged?",
    [
      div({ class: "choices tiles", role: "group", "aria-label": "where on the robot" },
        assemblies.length
          ? [
            assemblies.map((name) => tile(name, () => on.open(name))),
            joints(on).length ? tile("joints", () => on.open("joints")) : null,
          ]
          : Object.values(groups).map((name) => tile(name, () => on.choose(name)))),
      on.field("part", "or in your own words"),
      nextView(on),
    ],
    on.foot(on.part
      ? tap({ class: "main goes", words: "WHAT DOES IT NEED?", act: () => on.choose(on.part) })
      : on.reportButton()));
}

/** The parts of one assembly, or the joints. @param {Report} on */
export function partsPage(on) {
  const { assembly } = on;
  const list = assembly === "joints" ? joints(on) : parts(on).filter((n) => assemblyOf(n) === assembly);
  return on.frame(assembly === "joints" ? "Which joint?" : `${assembly}: which part?`,
    div({ class: "choices tiles", role: "group", "aria-label": assembly },
      list.map((n) => tap({ key: n.id, class: "choice", words: n.name, act: () => on.choose(n.name) })),
      assembly === "joints" ? null : tap({ key: "all", class: "choice", words: "all of it, or not sure", act: () => on.choose(assembly) })),
    on.foot(on.reportButton(), "where"));
}

/** Parts of the map that a group of the inspection is about, by the names of their assemblies. @param {Report} on */
export function partsOfGroup(on) {
  const word = on.part.split(",")[0].toLowerCase();
  const list = parts(on).filter((n) => assemblyOf(n).toLowerCase().startsWith(word));
  if (!on.line || list.length === 0 || !Object.values(groups).includes(on.part)) return null;
  return [
    h2(null, "which part of it?"),
    div({ class: "choices tiles", role: "group" }, list.map((n) =>
      tap({ key: n.id, class: "choice", words: n.name, act: () => on.choose(n.name) }))),
  ];
}

/** @param {Report} on */
export function pctView(on) {
  return [
    h2(null, "how many % of it work as it is?"),
    on.choice("worksPct", ["0", "25", "50", "75"].map((n) => /** @type {const} */ ([n, n])), "choices four"),
  ];
}

/** What a hit ran into next and nobody has reported on yet. @param {Report} on */
export function nextView(on) {
  const list = on.board.get(`works/${on.robot}`)?.lookNext ?? [];
  if (list.length === 0) return null;
  return [
    h2(null, "also check"),
    div({ class: "stack" },
      list.map((n) => tap({
        key: n.part, class: on.part === n.name ? "choice chosen" : "choice", words: `${n.name}: next to ${n.from}`,
        act: () => (on.damage ? on.another(n.name) : on.choose(n.name)),
      }))),
    p({ class: "hint" }, "Found nothing wrong? Report it as “no action, just noted”, so nobody looks twice."),
  ];
}
