// What the captain can enter, described once a kind: the forms are made from this.

import { fixFields, freshFix, locks, name, sizes, skills, stationKinds, triages } from "./fields.js";
import { energyKinds, placeKinds } from "../core/words.js";

/** @typedef {import("./fields.js").Field} Field */
/** @typedef {import("./fields.js").Option} Option */

/**
 * A kind of noun with its form.
 * @typedef {object} Kind
 * @property {string} kind as in keys
 * @property {string} title
 * @property {string} one
 * @property {string} id name of the id's field in commands
 * @property {Field[]} fields
 * @property {(noun: any) => string} says one line under the name
 * @property {() => Record<string, unknown>} fresh
 */

/** @type {Option[]} */
const chemistries = [["lipo", "LiPo"], ["lipo-hv", "LiPo HV"], ["li-ion", "Li-ion"], ["life", "LiFe"], ["nimh", "NiMH"], ["agm", "AGM"]];

/** @type {Option[]} */
const packUses = [["main", "main"], ["weapon", "weapon"], ["transmitter", "transmitter"], ["tool", "tool"]];

/** @type {Option[]} */
const roles = [["crew", "crew"], ["safety", "safety lead"], ["captain", "captain"]];

/** @type {Kind} */
export const robotKind = {
  kind: "robot", title: "robots", one: "robot", id: "robot",
  says: (r) => `${r.class.name ? `${r.class.name} · ${r.class.limit} ${r.class.unit}` : "no class said yet"} · importance ${r.weight}`,
  fresh: () => ({
    name: "", class: { name: "", limit: 0, unit: "", ruleSet: "" }, size: "light", energies: [], hands: 2, beforeSec: 300,
    afterSec: 300, weight: 5,
  }),
  fields: [
    name,
    { name: "class", label: "class", type: "row", fields: [
      { name: "name", label: "name", type: "text", hint: "left empty with all else of it, it is asked when the robot is weighed" },
      { name: "limit", label: "limit", type: "number" },
      { name: "unit", label: "unit", type: "choice", options: [["g", "g"], ["kg", "kg"], ["lb", "lb"]] },
      { name: "ruleSet", label: "rule set and its revision", type: "text", more: true },
      {
        name: "bonusPct", label: "allowed on top", type: "number", unit: "%", hint: "as for legs; none for a robot on wheels", more: true,
      },
      { name: "bonus", label: "what for", type: "text", more: true },
      {
        name: "walkingGrams", label: "mass of what carries it, where that is not the whole robot", type: "number", unit: "g", more: true,
      },
    ] },
    { name: "size", label: "size", type: "choice", options: sizes, hint: "chooses the kinds of job that are offered" },
    {
      name: "energies", label: "energies: every way it can hurt", type: "rows",
      fresh: () => ({ kind: "weapon-power", isolator: "", reach: "outside" }),
      fields: [
        { name: "kind", label: "energy", type: "choice", options: energyKinds },
        { name: "isolator", label: "what isolates it", type: "text", hint: "as: removable link, rear left" },
        {
          name: "reach", label: "reached", type: "choice", options: [["outside", "with the covers on"], ["inside", "with the covers off"]],
        },
        { name: "moves", label: "what moves when it goes", type: "text" },
        {
          name: "restSec", label: "with the power off, gone after", type: "whole", unit: "s",
          hint: "capacitors; a rotor, if longer than the event says",
        },
      ],
    },
    {
      name: "locks", label: "what holds its weapon still", type: "many", options: locks,
      hint: "its sheets ask for that; a lock, where nothing is ticked", more: true,
    },
    { name: "number", label: "number", type: "whole", hint: "the short number people shout; left empty, the next free one", more: true },
    { name: "lead", label: "lead", type: "ref", kind: "person", only: (p) => !p.retired },
    { name: "driver", label: "driver", type: "ref", kind: "person", only: (p) => !p.retired },
    { name: "hands", label: "people who fit at it", type: "whole", zero: true, more: true },
    { name: "beforeSec", label: "from the fight's end to the first job", type: "number", per: 60, unit: "min", zero: true, more: true },
    { name: "afterSec", label: "from the last job to the call", type: "number", per: 60, unit: "min", zero: true, more: true },
    { name: "weight", label: "importance of its calls", type: "whole", hint: "1 to 9", more: true },
    { name: "secondVerifier", label: "someone else verifies than who isolated", type: "flag", more: true },
    {
      name: "mainPacks", label: "packs that drive it", type: "whole", hint: "how many it takes at once, all of one kind; empty is 1",
      more: true,
    },
    { name: "weaponPacks", label: "packs for its weapon alone", type: "whole", hint: "empty is 1, if it has such packs", more: true },
  ],
};

/** @type {Kind} */
export const personKind = {
  kind: "person", title: "people", one: "person", id: "person",
  says: (p) => [
    p.role,
    p.minor && "minor",
    p.guest && "guest",
    p.signer && "signer",
    p.from,
    p.claimedOn ? "no phone: PIN set on the captain’s device" : p.claimed ? "has a phone here" : "no phone yet",
  ].filter(Boolean).join(" · "),
  fresh: () => ({ name: "", role: "crew", skills: [], authorised: [] }),
  fields: [
    name,
    { name: "role", label: "role", type: "choice", options: roles },
    { name: "skills", label: "skills", type: "many", options: skills },
    { name: "authorised", label: "may lock out and verify", type: "many", options: energyKinds },
    { name: "minor", label: "minor: hands near only", type: "flag" },
    { name: "signer", label: "may sign a robot ready", type: "flag" },
    { name: "guest", label: "guest: hands near only", type: "flag", more: true },
    { name: "from", label: "from another team or the event", type: "text", more: true },
  ],
};

/** @type {Kind} */
export const packKind = {
  kind: "pack", title: "packs", one: "pack", id: "pack",
  says: (p) => `${p.cells} cells · ${p.capacityAh} Ah · ${p.use}`,
  fresh: () => ({ name: "", chemistry: "lipo", cells: 4, parallel: 1, capacityAh: 1, chargeAmpsMost: 1, use: "main", fits: [] }),
  fields: [
    name,
    { name: "chemistry", label: "chemistry", type: "choice", options: chemistries },
    { name: "cells", label: "cells in series", type: "whole" },
    { name: "parallel", label: "cells side by side", type: "whole", more: true },
    { name: "capacityAh", label: "capacity", type: "number", unit: "Ah" },
    { name: "chargeAmpsMost", label: "charge at most, from the label", type: "number", unit: "A" },
    { name: "fasterBy", label: "who allowed more than 1C", type: "text", hint: "empty: never faster than 1C", more: true },
    { name: "use", label: "drives", type: "choice", options: packUses, more: true },
    { name: "massGrams", label: "mass", type: "number", unit: "g", more: true },
    {
      name: "fits", label: "fits", type: "refs", kind: "robot", only: (r) => !r.retired,
      hint: "a pack that fits no robot is not planned for any fight",
    },
  ],
};

/** @type {Kind} */
export const stockKind = {
  kind: "stock", title: "spares", one: "spare", id: "stock",
  says: (k) => `${k.count} left${k.where ? ` · ${k.where}` : ""}`,
  fresh: () => ({ name: "", count: 1 }),
  fields: [
    name,
    { name: "count", label: "how many", type: "whole", zero: true },
    { name: "where", label: "where it lies", type: "text" },
    { name: "massGrams", label: "mass of one", type: "whole", unit: "g", more: true },
    { name: "listCents", label: "list price", type: "number", per: 100, more: true },
    { name: "paidCents", label: "paid for one", type: "number", per: 100, more: true },
    { name: "leadDays", label: "days to get one", type: "whole", unit: "days", more: true },
    { name: "lender", label: "on loan from", type: "text", more: true },
  ],
};

/** @type {Kind} */
const stationKind = {
  kind: "station", title: "stations", one: "station", id: "station",
  says: (w) => `${w.kind} · ${w.count} at once`,
  fresh: () => ({ name: "", kind: "bench", count: 1 }),
  fields: [
    name,
    { name: "kind", label: "kind", type: "choice", options: stationKinds },
    { name: "count", label: "jobs at once", type: "whole" },
    { name: "place", label: "place (no pack may be there while it throws sparks)", type: "ref", kind: "place", only: (p) => !p.retired }],
};

/** @type {Kind} */
export const placeKind = {
  kind: "place", title: "places", one: "place", id: "place",
  says: (p) => p.kind,
  fresh: () => ({ name: "", kind: "bench" }),
  fields: [
    name, { name: "kind", label: "what it is for", type: "choice", options: placeKinds },
    {
      name: "inSight", label: "charging places in sight from here", type: "refs", kind: "place",
      only: (p) => !p.retired && p.kind === "charging",
    },
  ],
};

/** @type {Kind} */
const templateKind = {
  kind: "template", title: "kinds of job", one: "kind of job", id: "template",
  says: (m) => `${m.size} · ${m.triage} · ${m.fixes.length === 1 ? "1 way" : `${m.fixes.length} ways`}`,
  fresh: () => ({ name: "", size: "light", triage: "should", fixes: [freshFix()] }),
  fields: [
    name,
    { name: "size", label: "robots", type: "choice", options: sizes },
    { name: "triage", label: "importance", type: "choice", options: triages },
    { name: "fixes", label: "ways to do it", type: "rows", fields: fixFields, fresh: freshFix }],
};

/** @type {Kind} */
const constructionKind = {
  kind: "construction", title: "constructions", one: "construction", id: "construction",
  says: (c) => `${c.built ? "as it is built" : "in mind"}${c.guessed ? ", times guessed" : ""} · ${c.mends.length} ways to mend`,
  fresh: () => ({ name: "", robot: "", mends: [freshMend()] }),
  fields: [
    { name: "robot", label: "robot", type: "ref", kind: "robot", only: (r) => !r.retired },
    name,
    { name: "built", label: "the robot is built so", type: "flag" },
    { name: "guessed", label: "nobody has mended one: the times are guesses", type: "flag" },
    { name: "massGrams", label: "mass", type: "number", unit: "g", more: true },
    { name: "listCents", label: "list price of a whole one", type: "number", per: 100, more: true },
    { name: "notes", label: "notes", type: "note", more: true },
    { name: "mends", label: "ways to mend it", type: "rows", fresh: freshMend, fields: [
      { name: "group", label: "group of parts", type: "text", hint: "rows of one group belong together" },
      { name: "parts", label: "its parts, as damage names them", type: "lines", hint: "in the group's first row" },
      { name: "accessSec", label: "to reach it, likely", type: "number", unit: "min", per: 60 },
      { name: "accessBadSec", label: "to reach it, bad case", type: "number", unit: "min", per: 60 },
      { name: "joints", label: "fasteners", type: "whole" },
      { name: "name", label: "what is done", type: "text" },
      { name: "from", label: "from so many parts hit in a fight", type: "whole" },
      { name: "each", label: "once for each part hit, not once a fight", type: "flag" },
      { name: "likelySec", label: "likely", type: "number", unit: "min", per: 60 },
      { name: "badSec", label: "bad case", type: "number", unit: "min", per: 60 },
      { name: "costCents", label: "what it uses up", type: "number", per: 100 },
    ] },
  ],
};

function freshMend() {
  return { group: "", parts: [], name: "", from: 1, likelySec: 0, badSec: 0 };
}

/** @type {Kind} */
const circuitKind = {
  kind: "circuit", title: "circuits", one: "circuit", id: "circuit",
  says: (c) => `${c.volts} V · ${c.ratingAmps} A, as ${c.saidBy} said`,
  fresh: () => ({ name: "", volts: 0, ratingAmps: 0, saidBy: "" }),
  fields: [
    name,
    { name: "volts", label: "volts", type: "number", unit: "V" },
    { name: "ratingAmps", label: "rated for", type: "number", unit: "A" },
    { name: "otherAmps", label: "what else runs on it", type: "number", unit: "A" },
    { name: "saidBy", label: "who said so", type: "text", hint: "whoever answers for the wiring" },
  ],
};

/** @type {Kind} */
const channelKind = {
  kind: "channel", title: "chargers", one: "charger channel", id: "channel",
  says: (c) => `${c.charger} · ${c.ampsMost} A · ${c.wattsMost} W`,
  fresh: () => ({ name: "", charger: "", ampsMost: 0, wattsMost: 0, chargerWatts: 0, cellsMost: 6 }),
  fields: [
    name,
    { name: "charger", label: "charger", type: "text" },
    { name: "ampsMost", label: "channel at most", type: "number", unit: "A" },
    { name: "wattsMost", label: "channel at most", type: "number", unit: "W" },
    { name: "chargerWatts", label: "all its channels at most", type: "number", unit: "W" },
    { name: "cellsMost", label: "cells at most", type: "whole", more: true },
    { name: "place", label: "place", type: "ref", kind: "place" },
    { name: "powerFactor", label: "power factor, 0 to 1; 0 if nobody knows", type: "number", more: true },
    { name: "circuit", label: "mains circuit", type: "ref", kind: "circuit", more: true },
  ],
};

const robotOf = { name: "robot", label: "robot", type: /** @type {const} */ ("ref"), kind: "robot" };

/** Nouns of the robot that the form is about. @param {any} n @param {any} draft */
const ofRobot = (n, draft) => !n.retired && n.robot === draft.robot;

/** Likely and bad time of a change, in minutes. @param {string} likely @param {string} bad @param {string} words @returns {Field[]} */
const twoTimes = (likely, bad, words) => [
  { name: likely, label: `${words}: likely`, type: "number", per: 60, unit: "min" },
  { name: bad, label: `${words}: bad case`, type: "number", per: 60, unit: "min" },
];

const freshServes = () => ({ function: "", share: 100 });

/** @type {Kind} */
export const partKind = {
  kind: "part", title: "parts", one: "part", id: "part",
  says: (n) => [n.material, n.massGrams && `${n.massGrams} g`].filter(Boolean).join(" · "),
  fresh: () => ({ name: "", first: [], next: [], serves: [] }),
  fields: [
    robotOf,
    { ...name, hint: "its own on this robot, as: rail, left" },
    { name: "assembly", label: "assembly", type: "text", hint: "as: drive, left" },
    { name: "material", label: "material", type: "text", more: true },
    { name: "massGrams", label: "mass", type: "number", unit: "g", more: true },
    { name: "materialListCents", label: "list price of its material, or of a bought part", type: "number", per: 100, more: true },
    { name: "materialPaidCents", label: "paid for it", type: "number", per: 100, more: true },
    { name: "machiningListCents", label: "list price of machining by others", type: "number", per: 100, more: true },
    { name: "machiningPaidCents", label: "paid for it", type: "number", per: 100, more: true },
    { name: "ownSec", label: "our own work on one", type: "number", per: 60, unit: "min", more: true },
    { name: "leadDays", label: "days to get one", type: "whole", unit: "days", more: true },
    { name: "stock", label: "spare that goes in its place", type: "ref", kind: "stock" },
    ...twoTimes("offSec", "offBadSec", "to take it off and put it back"),
    { name: "bendMmPer100", label: "how far it may be bent, per 100 mm", type: "number", unit: "mm", hint: "gap under a straightedge",
      more: true },
    { name: "first", label: "what comes off first: any one of these sets", type: "rows", more: true, fresh: () => ({ parts: [] }), fields: [
      { name: "parts", label: "all of these", type: "refs", kind: "part", only: (n, draft) => ofRobot(n, draft) && n.id !== draft.part },
    ] },
    {
      name: "next", label: "what a hit on it runs into next", type: "refs", kind: "part",
      only: (n, draft) => ofRobot(n, draft) && n.id !== draft.part, more: true,
    },
    { name: "serves", label: "what the robot does by means of it", type: "rows", more: true, fresh: freshServes, fields: [
      { name: "function", label: "function", type: "text", hint: "as: drive left, weapon, self-righting" },
      { name: "share", label: "how much of it goes with the part", type: "whole", unit: "%" },
    ] },
  ],
};

/** @type {Kind} */
export const jointKind = {
  kind: "joint", title: "joints", one: "joint", id: "joint",
  says: (n) => [n.count ? `${n.count} × ${n.fastening}` : n.fastening, n.tool].filter(Boolean).join(" · "),
  fresh: () => ({ name: "", parts: [], fastening: "" }),
  fields: [
    robotOf,
    name,
    { name: "parts", label: "joins", type: "refs", kind: "part", only: ofRobot },
    { name: "fastening", label: "fastened by", type: "text", hint: "as: M5 button head, tab and slot, weld" },
    { name: "count", label: "how many", type: "whole" },
    { name: "tool", label: "tool", type: "text" },
    ...twoTimes("offSec", "offBadSec", "to undo all and fasten again").map((f) => ({ ...f, more: true })),
  ],
};

/** @type {Kind} */
export const moduleKind = {
  kind: "module", title: "modules", one: "module", id: "module",
  says: (n) => `${n.slot} · ${n.massGrams} g`,
  fresh: () => ({ slot: "", name: "", massGrams: 0 }),
  fields: [
    robotOf,
    name,
    { name: "slot", label: "slot it goes into", type: "text", hint: "a slot holds one module, as: front" },
    { name: "massGrams", label: "mass", type: "number", unit: "g", zero: true },
    ...twoTimes("swapSec", "swapBadSec", "to put it on in place of another").map((f) => ({ ...f, zero: true })),
    { name: "lasts", label: "one is good for", type: "whole", unit: "fights", more: true },
    { name: "stock", label: "spare that goes in its place", type: "ref", kind: "stock", more: true },
  ],
};

/** @type {Kind} */
export const setupKind = {
  kind: "setup", title: "setups", one: "setup", id: "setup",
  says: (n) => (n.against ?? []).join(", "),
  fresh: () => ({ name: "", modules: [], against: [], notNeeded: [] }),
  fields: [
    robotOf,
    name,
    { name: "modules", label: "modules, one a slot", type: "refs", kind: "module", only: ofRobot },
    { name: "declared", label: "declared to the officials: the heaviest of these is weighed", type: "flag" },
    { name: "against", label: "taken against", type: "lines", hint: "kinds of opponent, in your own words" },
    { name: "notNeeded", label: "functions it does without", type: "lines", more: true },
    { name: "notes", label: "notes", type: "note", more: true },
  ],
};

/** The plain lists that are made before the day, in the order of their tabs. */
export const setUpKinds = [stationKind, placeKind, templateKind, channelKind, circuitKind, constructionKind];

