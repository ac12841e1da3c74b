// Damage on the part map: which part or joint it is, how much of it works, and
// what the hit ran into next.

import { div, h2, p, tap } from "../core/tags.js";
import { byName } from "../core/screen.js";

/** @typedef {import("./damage.js").Report} Report */

/** @param {Report} on */
const parts = (on) => byName(on.board.all("part").filter((n) => !n.retired && n.robot === on.robot));

/** @param {Report} on */
const joints = (on) => byName(on.board.all("joint").filter((n) => !n.retired && n.robot === on.robot));

/** What a report says of the map: the part or the joint whose name was typed or chosen. @param {Report} on */
export function onMap(on) {
  const name = (on.typed.part ?? "").trim().toLowerCase();
  const part = parts(on).find((n) => n.name.toLowerCase() === name);
  if (part) return { onPart: part.id };
  const joint = joints(on).find((n) => n.name.toLowerCase() === name);
  return joint ? { onJoint: joint.id } : {};
}

/** The parts and joints of the robot to choose from, an assembly at a time; null without a map. @param {Report} on */
export function placesView(on) {
  const all = parts(on);
  if (all.length === 0) return null;
  const assemblies = [...new Set(all.map((n) => n.assembly || "other"))].sort();
  const named = on.assembly === "joints" ? joints(on) : all.filter((n) => (n.assembly || "other") === on.assembly);
  const open = (/** @type {string} */ name) =>
    on.toggle(name, name, on.assembly === name, () => { on.assembly = on.assembly === name ? "" : name; on.screen.redraw(); });
  return [
    div({ class: "choices", role: "group", "aria-label": "where on the robot" },
      [...assemblies, ...(joints(on).length ? ["joints"] : [])].map(open)),
    on.assembly ? on.choice("part", named.map((n) => /** @type {const} */ ([n.name, n.name])), "stack") : null,
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
        key: n.part, class: on.typed.part === n.name ? "choice chosen" : "choice", words: `${n.name}: next to ${n.from}`,
        act: () => (on.page === "what" ? on.type("part", n.name) : on.another(n.name)),
      }))),
    p({ class: "hint" }, "Found nothing wrong? Report it as “no action, just noted”, so nobody looks twice."),
  ];
}
