// The fields of the captain's forms that several kinds share, and of what is no list:
// jobs, fights and the event.

/**
 * One field of a form. `per` is how many wire units one typed unit is: 60 where
 * minutes are typed and seconds kept, 100 where money is typed and cents kept.
 * @typedef {object} Field
 * @property {string} name wire name
 * @property {string} label
 * @property {"text"|"note"|"whole"|"number"|"choice"|"many"|"flag"|"ref"|"refs"|"lines"|"rows"|"row"|"time"} type
 * @property {string} [unit]
 * @property {number} [per]
 * @property {Option[]} [options] of a choice, of many, and of figures and lines that are chosen
 * @property {string} [kind] of the nouns that a ref chooses from
 * @property {(noun: any, draft: any) => boolean} [only] which of those nouns are offered
 * @property {Field[]} [fields] of a row
 * @property {() => Record<string, unknown>} [fresh] a new row
 * @property {string} [hint]
 * @property {boolean} [more] shown behind "more", at the end of its form
 * @property {boolean} [zero] 0, false or nothing is sent as it is, not left out
 */

/** @typedef {[value: string, label: string]} Option */

/** @type {Option[]} */
export const triages = [
  ["must", "must: cannot fight without it"], ["should", "should: will cost us the fight"], ["could", "could: nice to have"],
];

/** @type {Option[]} */
export const sizes = [["light", "light"], ["heavy", "heavy"]];

/** @type {Option[]} */
export const ways = [["swap", "swap"], ["mend", "mend"], ["patch", "patch, for now"], ["check", "check"]];

/** @type {Option[]} */
const wheres = [["in", "hands in the robot"], ["off", "off the robot"], ["whole", "takes the whole robot"]];

/** @type {Option[]} */
export const systems = [
  ["lock", "weapon lock"], ["link", "link"], ["light", "power light"], ["radio", "radio"], ["weapon", "weapon"], ["drive", "drive"],
  ["pack", "pack"], ["structure", "structure"], ["mass", "mass"],
];

/** @type {Option[]} */
export const skills = [
  ["any", "anyone"], ["mechanical", "mechanical"], ["electrical", "electrical"], ["radio", "radio"], ["weld", "weld"],
  ["pressure", "pressure"], ["fabricate", "fabricate"], ["drive", "drive"],
];

/** @type {Option[]} */
export const stationKinds = [
  ["bench", "bench"], ["plate", "flat plate"], ["grind", "grind"], ["weld", "weld"], ["charge", "charge"], ["scale", "scale"],
  ["test", "test"], ["gas", "gas"], ["press", "press"], ["none", "no station"],
];

/** What holds a weapon still. @type {Option[]} */
export const locks = [
  ["lock", "lock"], ["pin", "pin"], ["prop-bar", "prop bar"], ["strap", "strap"], ["clamp", "clamp"], ["none", "nothing on it moves"],
];

/** @type {Field} */
export const name = { name: "name", label: "name", type: "text" };

/**
 * Classes that many events have. Common practice, no source: one word stands for several
 * limits, so each names its own, and the event's rules count.
 * @type {{words: string, size: "light" | "heavy", class: import("../core/wire.d.ts").Class}[]}
 */
export const usualClasses = /** @type {const} */ ([
  ["antweight", 150, "g", "light"], ["antweight", 1, "lb", "light"], ["beetleweight", 1.5, "kg", "light"],
  ["beetleweight", 3, "lb", "light"], ["hobbyweight", 12, "lb", "light"], ["featherweight", 13.6, "kg", "heavy"],
  ["featherweight", 30, "lb", "heavy"], ["heavyweight", 110, "kg", "heavy"], ["heavyweight", 250, "lb", "heavy"],
]).map(([word, limit, unit, size]) => ({
  words: `${word} ${limit}\u00a0${unit}`, size, class: { name: word, limit, unit, ruleSet: "" },
}));

/**
 * The fields of one way to do a job.
 * @type {Field[]}
 */
export const fixFields = [
  { name: "name", label: "what is done", type: "text" },
  { name: "way", label: "way", type: "choice", options: ways },
  { name: "likelySec", label: "likely", type: "number", per: 60, unit: "min", hint: "half of such jobs are done by then" },
  { name: "badSec", label: "bad case", type: "number", per: 60, unit: "min", hint: "nine in ten are done by then" },
  { name: "hands", label: "hands, each with its skill", type: "lines", options: skills },
  { name: "station", label: "station", type: "choice", options: stationKinds },
  { name: "where", label: "where", type: "choice", options: wheres, more: true },
  { name: "stock", label: "spares it takes", type: "rows", more: true, fresh: () => ({ stock: "", count: 1 }), fields: [
    { name: "stock", label: "spare", type: "ref", kind: "stock" },
    { name: "count", label: "pieces", type: "whole" },
  ] },
  { name: "touches", label: "touches", type: "many", options: systems, hint: "checks of these are owed again afterwards", more: true },
  { name: "lockout", label: "the robot must be locked out", type: "flag", more: true },
  { name: "packOut", label: "its packs must be out", type: "flag", more: true },
  { name: "limits", label: "limits that a patch leaves", type: "text", more: true },
  { name: "worksPct", label: "how much works after a patch", type: "whole", unit: "%", more: true },
];

/** A fix as it starts in a form: one pair of hands at a bench, locked out. */
export const freshFix = () => ({
  name: "", way: "swap", likelySec: 600, badSec: 1200, hands: ["any"], station: "bench", where: "in", lockout: true,
});

/**
 * The fields of a job.
 * @type {Field[]}
 */
export const jobFields = [
  { name: "robot", label: "robot", type: "ref", kind: "robot" },
  {
    name: "template", label: "kind of job", type: "ref", kind: "template",
    hint: "its ways and times are used where you enter none here",
  },
  { ...name, hint: "left empty, it gets the name of the kind of job" },
  {
    name: "triage", label: "importance", type: "choice", options: triages,
    hint: "left empty, it gets that of the kind of job, or is a must",
  },
  { name: "fixes", label: "ways to do it", type: "rows", fields: fixFields, fresh: freshFix },
  {
    name: "after", label: "comes after", type: "refs", kind: "job",
    only: (j, draft) => j.robot === draft.robot && j.id !== draft.job && ["open", "running", "held"].includes(j.state), more: true,
  },
  {
    name: "damages", label: "puts right", type: "refs", kind: "damage", only: (d, draft) => d.robot === draft.robot && !d.dropped,
    more: true,
  },
];

/**
 * The fields of a fight.
 * @type {Field[]}
 */
export const fightFields = [
  { name: "robot", label: "robot", type: "ref", kind: "robot", only: (r) => !r.retired },
  { name: "arena", label: "arena", type: "text" },
  { name: "number", label: "place in the running order", type: "whole" },
  { name: "opponent", label: "opponent", type: "text" },
  { name: "opponentKind", label: "its kind", type: "text", hint: "your own word, as: spinner", more: true },
  { name: "notBefore", label: "not before", type: "time" },
  {
    name: "after", label: "only after fight", type: "ref", kind: "fight",
    only: (f, draft) => f.state !== "dropped" && f.id !== draft.fight, more: true,
  },
  { name: "if", label: "if that one is", type: "choice", options: [["won", "won"], ["lost", "lost"]], more: true },
];

/**
 * The event's settings, by when they are needed.
 * @type {{title: string, fields: Field[]}[]}
 */
export const eventGroups = [
  { title: "before any power", fields: [
    name,
    { name: "activationOrder", label: "steps to switch on, in the event's order", type: "lines" },
    { name: "deactivationOrder", label: "steps to switch off, in the event's order", type: "lines" },
    { name: "spinDownSec", label: "a weapon stops by itself within", type: "whole", unit: "s" },
    { name: "chargingPlaces", label: "charging is allowed at", type: "refs", kind: "place", only: (p) => !p.retired },
    { name: "emergencyContact", label: "whom to reach in an emergency, as the event says", type: "text" },
  ] },
  { title: "before the first call", fields: [
    { name: "offsetMin", label: "event's time, east of UTC", type: "whole", unit: "min" },
    { name: "leadFights", label: "be at staging this many fights early", type: "whole" },
    { name: "leadSec", label: "and this long before that", type: "number", per: 60, unit: "min" },
    { name: "fightMeanSec", label: "from one fight's start to the next, at a guess", type: "number", per: 60, unit: "min" },
    { name: "fightMeanWorth", label: "the guess is worth this many fights seen", type: "whole" },
    { name: "breaks", label: "breaks", type: "rows", fresh: () => ({ from: "", to: "" }), fields: [
      { name: "from", label: "from", type: "time" },
      { name: "to", label: "to", type: "time" },
    ] },
  ] },
  { title: "between two fights", fields: [
    { name: "restSec", label: "promised gap between two fights", type: "number", per: 60, unit: "min" },
    {
      name: "restFrom", label: "the gap is counted from", type: "choice",
      options: [["match-end", "end of the fight"], ["left-arena", "out of the arena"], ["at-bench", "back at the bench"]],
    },
    { name: "restTo", label: "to", type: "choice", options: [["call", "the call"], ["fight-start", "start of the fight"]] },
    { name: "postponeSec", label: "one postponement a day, of", type: "number", per: 60, unit: "min" },
    {
      name: "postponeFor", label: "that is one for", type: "choice",
      options: [["team", "all robots of the team together"], ["robot", "each robot"]],
    },
    { name: "attendantMost", label: "charges one person may attend", type: "whole" },
    {
      name: "tightBelow", label: "tight where the call is met on under this many of 10 such days (9 if left empty)", type: "whole",
      more: true,
    },
    { name: "wontBelow", label: "won’t finish where it is met on under this many of 10 (5 if left empty)", type: "whole", more: true },
    { name: "currency", label: "money is in", type: "text", hint: "as you write it behind a figure, at most 8 letters", more: true },
  ] },
  { title: "as officials and venue say", fields: [
    { name: "card", label: "the officials' emergency card", type: "row", fields: [
      { name: "text", label: "its text, word for word", type: "note" },
      { name: "approvedBy", label: "official who approved it", type: "text" },
    ] },
    {
      name: "failsafeAt", label: "the failsafe may be proven at", type: "many",
      options: [["test-box", "test box"], ["arena-slot", "arena slot"], ["officials-check", "officials' check"]],
    },
    { name: "loadIn", label: "a load-in inspection comes before any test or signature", type: "flag" },
    { name: "hotWork", label: "the venue's hot-work permit, to grind and weld", type: "row", fields: [
      { name: "needed", label: "the venue asks for one", type: "flag" },
      { name: "text", label: "what it permits", type: "note" },
      { name: "by", label: "who gave it", type: "text" },
      { name: "until", label: "until", type: "time" },
    ] },
    { name: "repairerMaySign", label: "who did the last repair may sign (this prints on the board)", type: "flag" },
    {
      name: "minorsDrive", type: "flag",
      label: "the event lets minors drive; an adult declares the robot live (this prints on the board)",
    },
    {
      name: "recheckSec", label: "gas and capacitors are checked again, at work, every (the robot is unknown where that is missed)",
      type: "number", per: 60, unit: "min", more: true,
    },
  ] },
];

export const eventFields = eventGroups.flatMap((g) => g.fields);

/** Why work in a robot asks for no lockout: it stands in the review. @type {Field} */
export const whyUnlocked = { name: "reason", label: "why, where work in the robot asks for no lockout", type: "text", more: true };

/** Why the event asks less than before: it stands in the review. @type {Field} */
export const whyWeaker = { name: "reason", label: "why, where anything here asks less than before", type: "text", more: true };

/** Why someone may do more than before: it stands in the review. @type {Field} */
export const whyMore = {
  name: "reason", label: "why, where a minor is none any more or someone becomes a signer", type: "text", more: true,
};

/** Why something asks less now: it stands in the review. @type {Field} */
export const whyLess = {
  name: "reason", type: "text", more: true,
  label: "why, where an energy, a lock, a pack or a second person comes off, a name changes, or a robot stands there",
};
