// Captain: the plain lists (people, packs, spares …) and the event's settings.

import { b, dd, div, dl, dt, h2, li, ol, p, tap } from "../core/tags.js";
import { eventFields, eventGroups, whyLess, whyUnlocked, whyMore, whyWeaker } from "./fields.js";
import { packWords, placeOf } from "../core/words.js";
import { briefButton, briefedSaid } from "./alarms.js";
import { about, kept, row } from "./row.js";
import { byName, robotName, sawOf } from "../core/screen.js";

/** @typedef {import("./captain.js").Captain} Captain */
/** @typedef {import("./kinds.js").Kind} Kind */
/** @typedef {import("./fields.js").Field} Field */

/**
 * The fields of a noun that a command carries, as the board holds them.
 * @param {Field[]} fields
 * @param {any} noun
 * @returns {any}
 */
export function fieldsOf(fields, noun) {
  return Object.fromEntries(fields.filter((f) => noun[f.name] !== undefined).map((f) => [f.name, noun[f.name]]));
}

/** The fields of a change: some nouns ask less only with a reason. @param {Kind} kind */
function changeFields(kind) {
  if (kind.kind === "place") return [...kind.fields, whyLess];
  if (kind.kind === "person") return [...kind.fields, whyMore];
  return kind.kind === "template" ? [...kind.fields, whyUnlocked] : kind.fields;
}

/** @param {Captain} captain @param {Kind} kind */
export function listView(captain, kind) {
  const nouns = byName(/** @type {any[]} */ (captain.board.all(/** @type {any} */ (kind.kind))).filter((n) => !n.retired));
  return div(
    { class: "list" },
    div({ class: "column-head" }, h2(null, kind.title), tap({ words: `add a ${kind.one}`, act: () => captain.open({
      title: `A new ${kind.one}`, do: /** @type {any} */ (`${kind.kind}.add`),
      fields: ["template", "person"].includes(kind.kind) ? changeFields(kind) : kind.fields, from: kind.fresh(),
      says: `${kind.one} added`, undo: true,
    }) })),
    nouns.length ? null : p({ class: "fact" }, "none on the board yet"),
    div({ class: "rows" }, nouns.map((noun) => nounView(captain, kind, noun, nouns.filter((n) => n.name === noun.name).length > 1))),
  );
}

/** @param {Captain} captain @param {Kind} kind @param {any} noun @param {boolean} twin another has its name */
function nounView(captain, kind, noun, twin) {
  const { board } = captain;
  const { offsetMin } = captain.ctx.clock;
  const named = [board.all("robot"), board.all("place"), board.all("person")];
  return kept(noun.id, [noun, twin, captain.openRow === noun.id, board.get(`packview/${noun.id}`), offsetMin, ...named], () => {
    const [verb, ...rest] = kindActs(captain, kind, noun);
    const called = twin ? `${noun.name}, ${kind.says(noun)}` : noun.name;
    return row(captain, {
      id: noun.id, name: noun.name,
      says: [kind.kind === "pack" ? packLine(captain, noun) : "", kind.says(noun), kind.kind === "person" ? briefedSaid(captain, noun) : ""]
        .filter(Boolean).join(" · "),
      verb: about(called, verb),
      rest: () => div({ class: "card-acts" }, about(called, rest)),
    });
  });
}

/** What may be done with a noun, what is done most first. @param {Captain} captain @param {Kind} kind @param {any} noun */
function kindActs(captain, kind, noun) {
  const all = nounActs(captain, kind, noun);
  switch (kind.kind) {
    case "person": return noun.briefedAt ? [all[0], briefButton(captain, noun), all[1]] : [briefButton(captain, noun), ...all];
    case "stock": return [...stockActs(captain, noun), ...all];
    case "pack":
      return [tap({ key: "open", words: "reading, move, set aside", act: () => captain.ctx.go(`#/me/pack/${noun.id}`) }), ...all];
    default: return all;
  }
}

/** The acts that every card of a noun has. @param {Captain} captain @param {Kind} kind @param {any} noun */
export function nounActs(captain, kind, noun) {
  const also = { [kind.id]: noun.id };
  const seen = sawOf(captain.ctx, `${kind.kind}/${noun.id}`);
  return [
    tap({ key: "change", words: "change", act: () => captain.open({
      title: `Change ${noun.name}`, do: /** @type {any} */ (`${kind.kind}.change`),
      fields: changeFields(kind), from: { ...noun, reason: "" }, also, seen,
      says: `${noun.name} changed`, undo: true,
    }) }),
    tap({ key: "retire", words: "remove", act: () => captain.acts.ask({
      do: /** @type {any} */ (`${kind.kind}.retire`), with: /** @type {any} */ (also), seen, says: `${noun.name} is removed`,
      undo: true,
    }) }),
  ];
}

/** @param {Captain} captain @param {import("../core/wire.d.ts").Pack} pack */
function packLine(captain, pack) {
  const where = pack.robot ? `in ${robotName(captain.ctx, pack.robot)}` : placeOf(captain.board, pack.place) || "nobody has said where";
  return `${captain.board.get(`packview/${pack.id}`)?.word ?? packWords[pack.state]} · ${where}`;
}

/** @param {Captain} captain @param {import("../core/wire.d.ts").Stock} spare */
function stockActs(captain, spare) {
  return [
    tap({
      key: "use", words: "take one out",
      act: () => captain.acts.ask({ do: "stock.use", with: { stock: spare.id, count: 1 }, says: `took one ${spare.name}`, undo: true }),
    }),
    tap({ key: "count", words: "counted", act: () => captain.open({
      title: `How many of ${spare.name} are there?`, do: "stock.count", from: { count: spare.count }, also: { stock: spare.id },
      seen: sawOf(captain.ctx, `stock/${spare.id}`),
      says: `counted ${spare.name}`, undo: true, fields: [{ name: "count", label: "counted", type: "whole", zero: true }],
    }) }),
  ];
}

/**
 * What rule 20 asks for before any power, with the field that enters it.
 * @type {[keyof import("../core/wire.d.ts").Event["entered"], string][]}
 */
const asked = [
  ["activationOrder", "steps to switch on and off"], ["spinDown", "time to stop"], ["chargingPlaces", "charging places"],
  ["emergencyContact", "emergency contact"], ["card", "officials’ card"],
];

/** @param {Captain} captain */
export function eventView(captain) {
  const event = captain.board.get("event/event");
  return div(
    { class: "list" },
    h2(null, "what safety needs entered"),
    dl({ class: "facts" }, asked.map(([key, words]) => {
      const at = event?.entered?.[key];
      return [dt({ key }, words), dd(null, at ? `entered ${captain.ctx.clock.hhmm(at)}` : b(null, "not entered"))];
    })),
    ordersView(event),
    permitView(captain, event),
    eventGroups.map((group) => [
      div({ key: group.title, class: "column-head" },
        h2(null, group.title), tap({ words: "change", label: `change: ${group.title}`, act: () => askEvent(captain, group) })),
      dl({ key: `${group.title} facts`, class: "facts" },
        group.fields.map((f) =>
          [dt({ key: f.name }, f.label), dd(null, settingWords(captain, f, event?.[/** @type {keyof typeof event} */ (f.name)]))])),
    ]),
  );
}

/**
 * Asks for one group of the event's settings; the others stay. A new event has this
 * device's time.
 * @param {Captain} captain
 * @param {typeof eventGroups[number]} group
 */
export function askEvent(captain, group) {
  const event = captain.board.get("event/event");
  const was = event ?? { offsetMin: -new Date().getTimezoneOffset() };
  captain.open({
    title: `The event, ${group.title}`, do: "event.set", fields: [...group.fields, whyWeaker], from: { ...was, reason: "" },
    also: fieldsOf(eventFields.filter((f) => !group.fields.includes(f)), was),
    seen: event ? sawOf(captain.ctx, "event/event") : undefined, says: "event’s settings changed", undo: true,
  });
}

/**
 * The event's own steps, in its own order: no rule set is the same as another.
 * @param {import("../core/wire.d.ts").Event | undefined} event
 */
function ordersView(event) {
  const steps = (/** @type {string} */ title, /** @type {string[] | undefined} */ list) => [h2({ key: title }, title),
    list?.length
      ? ol({ key: `${title} steps`, class: "steps" }, list.map((step, i) => li({ key: String(i) }, b(null, `${i + 1} `), step)))
      : p({ key: `${title} none`, class: "fact" }, "not entered: no power and no charge until it is")];
  return [steps("to switch on", event?.activationOrder), steps("to switch off", event?.deactivationOrder)];
}

/** Whether grinding and welding is permitted now. @param {Captain} captain @param {import("../core/wire.d.ts").Event | undefined} event */
function permitView(captain, event) {
  const { needed, text, by, until } = event?.hotWork ?? {};
  if (!needed) {
    return [h2(null, "hot work"), p({ class: "fact" }, "The venue asks for no permit, as entered. Ask it before anyone grinds or welds.")];
  }
  const holds = text && by && until && Date.parse(until) > captain.ctx.clock.now();
  return [h2(null, "hot work"), holds
    ? p({ class: "fact" }, `permit from ${by} until ${captain.ctx.clock.hhmm(until)}: ${text}`)
    : p(null,
      b(null, "No permit holds now: no grinding, no welding."),
      until ? ` The last one ended ${captain.ctx.clock.hhmm(until)}.` : "")];
}

/** A setting in words. @param {Captain} captain @param {Field} f @param {any} value @returns {string} */
function settingWords(captain, f, value) {
  if (value === undefined || value === "" || (Array.isArray(value) && value.length === 0)) return "—";
  switch (f.type) {
    case "flag": return value ? "yes" : "no";
    case "whole":
    case "number": return `${value / (f.per ?? 1)} ${f.unit ?? ""}`.trim();
    case "choice": return f.options?.find(([v]) => v === value)?.[1] ?? value;
    case "many": return value.map((/** @type {string} */ v) => f.options?.find(([o]) => o === v)?.[1] ?? v).join(", ");
    case "refs": return value.map((/** @type {string} */ id) => placeOf(captain.board, id)).join(", ");
    case "lines": return value.map((/** @type {string} */ line, /** @type {number} */ i) => `${i + 1} ${line}`).join(" → ");
    case "rows":
      return value.map((/** @type {import("../core/wire.d.ts").Break} */ row) =>
        `${captain.ctx.clock.hhmm(row.from)} to ${captain.ctx.clock.hhmm(row.to)}`).join(", ");
    case "row":
      return (f.fields ?? [])
        .filter((sub) => value[sub.name])
        .map((sub) => `${sub.label}: ${settingWords(captain, sub, value[sub.name])}`)
        .join(" · ") || "—";
    case "time": return captain.ctx.clock.hhmm(value);
    default: return String(value);
  }
}
