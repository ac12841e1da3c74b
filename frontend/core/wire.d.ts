// What goes over the wire. "go test ./server -run TestWire -update" writes this file
// from the Go structs and their comments; change those. A field that may be left out
// has a question mark; it is then zero, "" or none.

/** RFC 3339 in UTC with milliseconds, "" where there is none. */
export type Time = string;
export type Id = string;

/** Hello is a socket's first. `from` is the oldest revision whose patch is kept. */
export interface Hello {
  t: "hello";
  proto: string;
  epoch: string;
  rev: number;
  from: number;
  now: Time;
  role: Role;
  person?: Id;
  name?: string;
  readOnly?: string;
  /** how far the laptop's is off the board's time */
  clock?: string;
  version: string;
}

/** Role is what a device may do: it comes from the code it joined with. */
export type Role = "captain" | "crew" | "safety" | "viewer";

/** Whole is the whole board at one revision. */
export interface Whole { t: "board"; epoch: string; rev: number; at: Time; put: Record<string, unknown> }

/** Patches is what commands changed, in the order of revisions, gapless. */
export interface Patches { t: "patches"; list: Patch[] }

/** Patch is what one command changed. */
export interface Patch { rev: number; at: Time; by?: Id; do: string; put?: Record<string, unknown>; del?: string[] }

/** Ack says that a command is done and on disk. */
export interface Ack { t: "ack"; id: Id; rev: number }

/**
 * Refused says that a command may not happen. `entity` is the noun as it stands where the
 * command saw an older one.
 */
export interface Refused { t: "refused"; id: Id; refusal: Refusal; entity?: unknown }

/**
 * Refusal is the answer to a command that may not happen. It is an answer, not a fault of
 * the program, and so is not an error.
 */
export interface Refusal {
  code: Code;
  /** `rule` is the number of the safety rule that speaks, or 0. */
  rule?: number;
  /** `ruleSays` is that rule in a sentence, as the rulebook has it. */
  ruleSays?: string;
  /** `field` is the wire name of the field at fault, or "". */
  field?: string;
  /** `sentence` says what is wrong and what to do now, in the user's words. */
  sentence: string;
  /**
   * `job` is the job it is about, where it names one. Where that job is finished, the
   * sentence ends with what it owes.
   */
  job?: Id;
  /** `now` holds, for CodeStale, the key of the noun that changed. */
  now?: string;
}

/** Code says in one word why a command was refused. Codes are part of the wire. */
export type Code =
  | "malformed" | "unknown" | "forbidden" | "bad-field" | "unlikely" | "taken" | "state" | "stale" | "safety"
  | "too-late" | "id-reused" | "read-only" | "too-many" | "restarting" | "need-pin" | "not-yet"
  | "nothing-done" | "no-session" | "too-big" | "not-a-picture" | "too-many-pixels" | "cannot-read" | "bad-id"
  | "offline";

/**
 * Beat says that the board is there, what time it has, why it takes no commands, if it
 * takes none, and how far the laptop's clock is off its time.
 */
export interface Beat { t: "beat"; now: Time; readOnly?: string; clock?: string }

/** Echo answers AskEchoMessage: when it came and when this left. */
export interface Echo { t: "echo"; sent: number; got: Time; now: Time }

/**
 * Forecast is the derived nouns: all of them, or those that changed since sequence number
 * `seq`−1. `seq` counts from 1 in each epoch. `of` is the revision they were computed from.
 */
export interface Forecast {
  t: "forecast";
  epoch: string;
  seq: number;
  of: number;
  at: Time;
  whole: boolean;
  put?: Record<string, unknown>;
  del?: string[];
}

/** Resume is a client's first: the epoch and revision it has, "" and 0 for none. */
export interface Resume { t: "resume"; epoch: string; rev: number }

/** DoMessage is a command. */
export interface DoMessage extends Ask { t: "do" }

/** Ask is one command as a device sends it, by POST /api/do or over the socket. */
export interface Ask {
  /** UUID, version 7 */
  id: string;
  do: string;
  with?: unknown;
  seen?: Record<string, number>;
  /** `at` is when the person did it, by the device's corrected clock. */
  at?: Time;
  /** `shiftSec` is what the device had of the board's noun clock/clock when it read `at`. */
  shiftSec?: number;
  pins?: Pin[];
}

/** Pin is a person's `pin`, typed on a device that may be another's. */
export interface Pin { person: Id; pin: string }

/** AskEcho asks for the time. `sent` is the client's own clock, in any unit, and comes back. */
export interface AskEcho { t: "echo"; sent: number }

/** EventSet replaces the event's settings. */
export interface EventSet extends EventFields {
  /** `reason` says why, where the event asks less than before. */
  reason?: string;
}

/** EventFields are the settings that event.set replaces. */
export interface EventFields {
  name: string;
  /** `offsetMin` is the event's time in minutes east of UTC, −840 to 840. */
  offsetMin?: number;
  /** `currency` is what money is in, as people write it behind a figure. */
  currency?: string;
  /** `activationOrder` and `deactivationOrder` are the event's own steps, in order. */
  activationOrder?: string[];
  deactivationOrder?: string[];
  /** `spinDownSec` is the longest time a weapon may take to stop by itself. */
  spinDownSec?: number;
  /**
   * `leadFights` and `leadSec` say how early a robot must be at staging: so many fights
   * before its own, and so many seconds before that.
   */
  leadFights?: number;
  leadSec?: number;
  /**
   * `restSec` is the promised gap between two fights of one robot, counted from `restFrom`
   * to `restTo`.
   */
  restSec?: number;
  restFrom?: RestEnd;
  restTo?: RestEnd;
  /** `postponeSec` is the one postponement a competitor may ask for in a day. */
  postponeSec?: number;
  /** `postponeFor` is who shares it; none means the team. */
  postponeFor?: PostponeFor;
  /**
   * `fightMeanSec` is the captain's guess of the time from one fight's start to the next,
   * worth `fightMeanWorth` fights seen.
   */
  fightMeanSec?: number;
  fightMeanWorth?: number;
  breaks?: Break[];
  /** `failsafeAt` says where the failsafe may be proven. */
  failsafeAt?: FailsafePlace[];
  /** `emergencyContact` is whom to reach, as the event gives it. */
  emergencyContact?: string;
  chargingPlaces?: Id[];
  /** `attendantMost` is how many charges one person may attend. */
  attendantMost?: number;
  /**
   * `tightBelow` and `wontBelow` are the captain's thresholds: a call or job that is met on
   * fewer than so many of 10 days is tight, or won't finish; 0 means 9, and 5.
   */
  tightBelow?: number;
  wontBelow?: number;
  /** `repairerMaySign` relaxes rule 12. It prints on the board. */
  repairerMaySign?: boolean;
  /** `minorsDrive` says that the event lets minors drive. It prints on the board. */
  minorsDrive?: boolean;
  /**
   * `recheckSec` is how long an answer about gas or capacitors holds while people are at
   * work; 0 means recheckSec, and more than that relaxes it.
   */
  recheckSec?: number;
  /** `loadIn` asks for a load-in inspection before a robot is tested or signed. */
  loadIn?: boolean;
  hotWork?: HotWork;
  card?: Card;
}

/** RestEnd is one end of the promised gap. */
export type RestEnd = "match-end" | "left-arena" | "at-bench" | "call" | "fight-start";

/** PostponeFor says who shares the one postponement that an event grants in a day. */
export type PostponeFor = "team" | "robot";

/** Break is a pause in the running order. */
export interface Break { from: Time; to: Time }

/** FailsafePlace is where an event lets the failsafe be proven. */
export type FailsafePlace = "test-box" | "arena-slot" | "officials-check";

/** HotWork is the venue's permit to grind and weld. */
export interface HotWork {
  /** `needed` says that the venue asks for one. */
  needed?: boolean;
  text?: string;
  /** `by` is who gave it, `until` when it ends. */
  by?: string;
  until?: Time;
}

/** Card is the officials' emergency card. The board has no such text of its own. */
export interface Card { text: string; approvedBy: string }

/**
 * WordingSet gives a list other words, another order and lines of its own. With no lines it
 * is the board's own again.
 */
export interface WordingSet { list: SheetList; lines: WordedLine[] }

/** SheetList names one of the sheets a robot passes from cart to call. */
export type SheetList =
  | "make-safe" | "first-in" | "inspect" | "close-up" | "reopen" | "ready" | "load-in" | "overnight"
  | "pack-up";

/**
 * WordedLine stands for a line of the board's own, under its id, in other words; or is a
 * line of the team's own, whose id begins with "own-".
 */
export interface WordedLine {
  id: string;
  /**
   * `ask`, `touch`, `say` and `not` replace the words where they are given. {name} in `ask`
   * is the pack, the isolator or the robot that the line is about.
   */
  ask?: string;
  touch?: string;
  say?: string;
  not?: string;
  /** The rest is for a team's own line. */
  part?: string;
  kind?: LineKind;
  notFitted?: boolean;
  covers?: System[];
  unit?: string;
  least?: number;
  most?: number;
  choices?: string[];
}

/** LineKind says what an answer carries besides the word. */
export type LineKind = "do" | "look" | "number" | "place" | "pack" | "told" | "proof" | "sign" | "choice";

/** System is a part of a robot that a job touches and a line covers. */
export type System = "lock" | "link" | "light" | "radio" | "weapon" | "drive" | "pack" | "structure" | "mass";

/** PersonAdd enters a person. */
export interface PersonAdd extends PersonFields {
  /** `reason` says why, where someone who was taken off the roster may do more now. */
  reason?: string;
}

/** PersonFields are what the captain says of a person. */
export interface PersonFields {
  name: string;
  role: Role;
  skills?: Skill[];
  /** `authorised` lists the kinds of energy the person may lock out and verify. */
  authorised?: EnergyKind[];
  /** `minor` and `guest` may only say that their hands are near. */
  minor?: boolean;
  guest?: boolean;
  /**
   * `signer` may sign a robot ready: a second pair of eyes, perhaps of another team or an
   * official, as `from` says.
   */
  signer?: boolean;
  from?: string;
}

/** Skill is one trade, or any trained hand. */
export type Skill = "mechanical" | "electrical" | "radio" | "weld" | "pressure" | "fabricate" | "drive" | "any";

/** EnergyKind is one way a robot can hurt. */
export type EnergyKind =
  | "weapon-power" | "drive-power" | "gas" | "hydraulic" | "spring" | "spinning-mass" | "raised-arm"
  | "capacitor" | "hot-parts";

/** PersonChange replaces what is said of a person. */
export interface PersonChange extends PersonFields {
  person: Id;
  /** `reason` says why, where they are no minor any more, or a signer now. */
  reason?: string;
}

/** PersonRetire takes a person off the roster; the record keeps the name. */
export interface PersonRetire { person: Id }

/** PersonBrief says that a person was briefed; the one who says so briefed them. */
export interface PersonBrief { person: Id }

/**
 * RobotAdd enters a robot, with the lowest free number where none is given. Its power is
 * unknown, as everything is at first.
 */
export interface RobotAdd extends RobotFields {
  /** `reason` says why, where it was taken off the board and asks less now. */
  reason?: string;
}

/** RobotFields are what the captain says of a robot. */
export interface RobotFields {
  name: string;
  /** `number` is the short number people shout. */
  number: number;
  class: Class;
  size: Size;
  energies?: Energy[];
  /**
   * `locks` are what holds its weapon still, which the sheets then ask for by name; none
   * given is a lock.
   */
  locks?: Lock[];
  lead?: Id;
  driver?: Id;
  /** `hands` is how many people can work at it at once. */
  hands: number;
  /**
   * `beforeSec` and `afterSec` are the overheads that do not shrink: from the end of a
   * fight to the first job, and from the last job to the call.
   */
  beforeSec: number;
  afterSec: number;
  /** `secondVerifier` asks that someone else verifies than who isolated. */
  secondVerifier?: boolean;
  /**
   * `mainPacks` and `weaponPacks` are how many packs of each use it takes at once, all of
   * one kind; 0 counts as 1.
   */
  mainPacks?: number;
  weaponPacks?: number;
  /** `weight` is how much the captain weighs this robot's calls, 1 to 9. */
  weight: number;
}

/** Class is a weight class. The limit is kept and compared in the rule's own unit. */
export interface Class {
  name: string;
  limit: number;
  unit: MassUnit;
  ruleSet: string;
  /**
   * `bonusPct` is what the rules allow on top for legs or the like, in % of the limit;
   * `bonus` says what for. `walkingGrams` is the mass of the machines that have it, where a
   * robot is made of several and only some have; 0 is all of it.
   */
  bonusPct?: number;
  bonus?: string;
  walkingGrams?: number;
}

/** MassUnit is a unit of a class limit. */
export type MassUnit = "g" | "kg" | "lb";

/** Size chooses between the two sets of job templates. */
export type Size = "heavy" | "light";

/** Energy is one energy source of a robot with its isolating point. */
export interface Energy {
  kind: EnergyKind;
  /** `isolator` is what isolates it: "removable link, rear left". */
  isolator: string;
  reach: Reach;
  /** `moves` says what moves when this energy goes: "the arm drops". */
  moves?: string;
  /**
   * `restSec` is how long it takes by itself, with the power off, until it is gone:
   * capacitors, or a rotor that takes longer than the event says.
   */
  restSec?: number;
}

/** Reach says from where an energy can be isolated. */
export type Reach = "outside" | "inside";

/** Lock is one thing that holds a robot's weapon still. */
export type Lock = "lock" | "pin" | "prop-bar" | "strap" | "clamp" | "none";

/**
 * RobotChange replaces what is said of a robot. A change of its energies, or of what holds
 * its weapon still, makes its power unknown: the old answers were about others.
 */
export interface RobotChange extends RobotFields {
  robot: Id;
  /**
   * `reason` says why, where an energy or a lock is taken off, no second person verifies,
   * or the name is mended while something has to be put right.
   */
  reason?: string;
}

/**
 * RobotEnergyOff says that a robot no longer has an energy: its gas is out, say. Its lead
 * and event safety, who stand beside it, have no form of the captain's.
 */
export interface RobotEnergyOff { robot: Id; energy: EnergyKind; reason: string }

/**
 * RobotWithdraw says that a robot has no calls any more. It is no field of RobotChange: a
 * form that was opened before would put it back.
 */
export interface RobotWithdraw { robot: Id }

/** RobotBackIn takes a robot back in that was withdrawn. */
export interface RobotBackIn { robot: Id }

/** RobotRetire takes a robot off the board; the record keeps it. */
export interface RobotRetire { robot: Id }

/** PlaceAdd enters a place. */
export interface PlaceAdd extends PlaceFields {}

/** PlaceFields are what the captain says of a place. */
export interface PlaceFields {
  name: string;
  kind: PlaceKind;
  /**
   * `inSight` lists the charging places that are seen from here: whoever stays with a
   * charge there may work here.
   */
  inSight?: Id[];
}

/** PlaceKind says what a place is for; the event names the places itself. */
export type PlaceKind = "bench" | "test-box" | "staging" | "arena" | "away" | "charging" | "watch" | "store";

/** PlaceChange replaces what is said of a place. */
export interface PlaceChange extends PlaceFields {
  place: Id;
  /** `reason` says why, where a robot stands at a place that becomes another kind. */
  reason?: string;
}

/** PlaceTurn says that the place where a robot stands is of another kind now. */
export interface PlaceTurn { place: Id; kind: PlaceKind; reason: string }

/** PlaceRetire takes a place off the board. */
export interface PlaceRetire { place: Id }

/** StationAdd enters a station. */
export interface StationAdd extends StationFields {}

/** StationFields are what the captain says of a station. */
export interface StationFields {
  name: string;
  kind: StationKind;
  count: number;
  /** `place` is where it stands, for stations that no pack may share (rule 15). */
  place?: Id;
}

/** StationKind is a kind of place to work: what a fix asks for. */
export type StationKind =
  | "bench" | "plate" | "grind" | "weld" | "charge" | "scale" | "test" | "gas" | "press" | "none";

/** StationChange replaces what is said of a station. */
export interface StationChange extends StationFields { station: Id }

/** StationRetire takes a station off the board. */
export interface StationRetire { station: Id }

/** StockAdd enters a kind of spare. */
export interface StockAdd extends StockFields {}

/** StockFields are what the captain says of a spare. */
export interface StockFields {
  name: string;
  count: number;
  /** `where` says where it lies: "drawer 3". */
  where?: string;
  massGrams?: number;
  /** `listCents` is the price by the list, `paidCents` what was paid for one. */
  listCents?: number;
  paidCents?: number;
  leadDays?: number;
  /** `lender` is the owner, where it is on loan. */
  lender?: string;
}

/** StockChange replaces what is said of a spare. */
export interface StockChange extends StockFields { stock: Id }

/** StockRetire takes a kind of spare off the board. */
export interface StockRetire { stock: Id }

/** StockUse takes pieces out of the box. */
export interface StockUse { stock: Id; count: number }

/** StockCount corrects the number after the box has been counted. */
export interface StockCount { stock: Id; count: number }

/** CircuitAdd enters a circuit. */
export interface CircuitAdd extends CircuitFields {}

/** CircuitFields are what the venue says of a circuit. */
export interface CircuitFields {
  name: string;
  volts: number;
  ratingAmps: number;
  /** `otherAmps` is what else runs on it. */
  otherAmps?: number;
  saidBy: string;
}

/** CircuitChange replaces what is said of a circuit. */
export interface CircuitChange extends CircuitFields { circuit: Id }

/** CircuitRetire takes a circuit off the board. */
export interface CircuitRetire { circuit: Id }

/**
 * CircuitOff says that a circuit went off: a breaker has tripped, or someone has pulled the
 * plug. Whether charges on it still run is open until somebody looks.
 */
export interface CircuitOff { circuit: Id }

/**
 * CircuitOn says that a circuit is on again, and who answers for the wiring said why it
 * went off. Of each charge on it someone says anew that they stay with it.
 */
export interface CircuitOn { circuit: Id; saidBy: string }

/** ChannelAdd enters a charger's channel. */
export interface ChannelAdd extends ChannelFields {}

/** ChannelFields are what the captain says of a channel. */
export interface ChannelFields {
  name: string;
  charger: string;
  ampsMost: number;
  /**
   * `wattsMost` is the channel's limit, `chargerWatts` that of all the charger's channels
   * together.
   */
  wattsMost: number;
  chargerWatts: number;
  cellsMost: number;
  /** `powerFactor` of the charger, 0 to 1; 0 where nobody knows. */
  powerFactor?: number;
  circuit?: Id;
  place?: Id;
}

/** ChannelChange replaces what is said of a channel. */
export interface ChannelChange extends ChannelFields { channel: Id }

/** ChannelRetire takes a channel off the board. */
export interface ChannelRetire { channel: Id }

/** TemplateAdd enters a kind of job. */
export interface TemplateAdd extends TemplateFields {
  /** `reason` says why, where one of this name was there and asked more. */
  reason?: string;
}

/** TemplateFields are what the captain says of a kind of job. */
export interface TemplateFields {
  name: string;
  /** `size` is the robots it is for. */
  size: Size;
  triage: Triage;
  fixes: Fix[];
}

/** Triage says how much a job matters. */
export type Triage = "must" | "should" | "could";

/** Fix is one way to do a job. */
export interface Fix {
  name: string;
  way: Way;
  /**
   * `likelySec` is the median, `badSec` the 90th percentile: half, and nine in ten, of such
   * jobs are done by then.
   */
  likelySec: number;
  badSec: number;
  /** `hands` lists a skill for each pair of hands; SkillAny is anyone. */
  hands: Skill[];
  station: StationKind;
  where: Where;
  stock?: Need[];
  touches?: System[];
  /**
   * `lockout` and `packOut`: the robot must be locked out, and its packs out of it, for as
   * long as the work lasts.
   */
  lockout?: boolean;
  packOut?: boolean;
  /** `limits` says what a patch leaves weak. */
  limits?: string;
  /**
   * `worksPct` is how much of the damaged thing works after a patch, 1 to 100 %; 0 is not
   * said.
   */
  worksPct?: number;
}

/** Way is how a fix puts something right. */
export type Way = "swap" | "mend" | "patch" | "check";

/**
 * Where says where the hands of a fix are: in the robot, off it, or whether the fix takes
 * the whole robot, as a live test does.
 */
export type Where = "in" | "off" | "whole";

/** Need is how many pieces of a spare a fix takes. */
export interface Need { stock: Id; count: number }

/** TemplateChange replaces what is said of a kind of job. */
export interface TemplateChange extends TemplateFields {
  template: Id;
  /** `reason` says why, where it asks less than it did. */
  reason?: string;
}

/** TemplateRetire takes a kind of job off the board. */
export interface TemplateRetire { template: Id }

/** PartAdd enters a part. */
export interface PartAdd extends PartFields {}

/** PartFields are what the team says of a part. */
export interface PartFields {
  robot: Id;
  /** `name` is the part's own on its robot: "rail, left". */
  name: string;
  /** `assembly` groups parts: "drive, left". */
  assembly?: string;
  material?: string;
  massGrams?: number;
  /**
   * What one part costs by the list and what was paid: its material, or its price where it
   * is bought, and the machining that others did; `ownSec` is the team's own work on it.
   */
  materialListCents?: number;
  materialPaidCents?: number;
  machiningListCents?: number;
  machiningPaidCents?: number;
  ownSec?: number;
  leadDays?: number;
  /** `stock` is the spare that goes in its place. */
  stock?: Id;
  /**
   * `offSec` and `offBadSec` are the likely and the bad time to take the part off and put
   * it back, its fastenings not counted; both 0 where it takes no time.
   */
  offSec?: number;
  offBadSec?: number;
  /**
   * `bendMmPer100` is how far from straight it may be, in mm of gap under a straightedge
   * for each 100 mm of length; 0 where nobody said.
   */
  bendMmPer100?: number;
  /**
   * `first` is what must come off before it: any one of these sets; none where it is
   * reached at once.
   */
  first?: AccessSet[];
  /** `next` lists the parts that a hit on this one runs into next. */
  next?: Id[];
  /** `serves` says what the robot does by means of this part. */
  serves?: Serve[];
}

/** AccessSet is one set of parts that must all be off. */
export interface AccessSet { parts: Id[] }

/** Serve is a part's share in a function of the robot. */
export interface Serve {
  /** `function` is its name: "drive left", "weapon", "self-righting". */
  function: string;
  /**
   * `share` is how much of the function goes with the part, 1 to 100 %: at 100 the part is
   * a single point of failure.
   */
  share: number;
}

/** PartChange replaces what is said of a part. It stays with its robot. */
export interface PartChange extends PartFields { part: Id }

/** PartRetire takes a part off the map; the record keeps it. */
export interface PartRetire { part: Id }

/** PartBend enters how far from straight a part is. */
export interface PartBend { part: Id; gapMm: number; overMm: number }

/** JointAdd enters a joint. */
export interface JointAdd extends JointFields {}

/** JointFields are what the team says of a joint. */
export interface JointFields {
  robot: Id;
  name: string;
  /** `parts` are those it joins, two or more. */
  parts: Id[];
  /** `fastening` says how: "M5 button head", "tab and slot", "weld". */
  fastening: string;
  /** `count` is how many of them; 0 where they are not counted, as a weld. */
  count?: number;
  /** `tool` undoes it: "hex key 3". */
  tool?: string;
  /**
   * `offSec` and `offBadSec` are the likely and the bad time to undo all of it and fasten
   * it again; both 0 where the parts' own times hold it.
   */
  offSec?: number;
  offBadSec?: number;
}

/** JointChange replaces what is said of a joint. It stays with its robot. */
export interface JointChange extends JointFields { joint: Id }

/** JointRetire takes a joint off the map; the record keeps it. */
export interface JointRetire { joint: Id }

/** ModuleAdd enters a module. */
export interface ModuleAdd extends ModuleFields {}

/** ModuleFields are what the team says of a module. */
export interface ModuleFields {
  robot: Id;
  /** `slot` is where it goes: "front". A slot holds one module. */
  slot: string;
  name: string;
  massGrams: number;
  /**
   * `swapSec` and `swapBadSec` are the likely and the bad time to put it on in place of
   * another.
   */
  swapSec: number;
  swapBadSec: number;
  /** `lasts` is how many fights one of them is good for; 0 is not known. */
  lasts?: number;
  stock?: Id;
}

/** ModuleChange replaces what is said of a module. It stays with its robot. */
export interface ModuleChange extends ModuleFields { module: Id }

/** ModuleRenew says that a new one has taken a module's place: its wear begins again. */
export interface ModuleRenew { module: Id }

/** ModuleRetire takes a module off the board. */
export interface ModuleRetire { module: Id }

/** SetupAdd enters a setup. */
export interface SetupAdd extends SetupFields {}

/** SetupFields are what the team says of a setup. */
export interface SetupFields {
  robot: Id;
  name: string;
  /** `modules` has one a slot at most; a slot that is left out is empty. */
  modules?: Id[];
  /** `declared` setups were named to the officials. The heaviest of them is weighed. */
  declared?: boolean;
  /** `against` lists the kinds of opponent that the team takes it for: "spinner". */
  against?: string[];
  notes?: string;
  /** `notNeeded` lists the functions that a fight in this setup does not ask for. */
  notNeeded?: string[];
}

/** SetupChange replaces what is said of a setup. It stays with its robot. */
export interface SetupChange extends SetupFields { setup: Id }

/** SetupRetire takes a setup off the board. */
export interface SetupRetire { setup: Id }

/** ConstructionAdd enters a construction. */
export interface ConstructionAdd extends ConstructionFields {}

/** ConstructionFields are what the team says of a construction. */
export interface ConstructionFields {
  robot: Id;
  name: string;
  /** `built` tells that the robot is built so: the recorded damage is this one's. */
  built?: boolean;
  /** `guessed` tells that nobody has mended one: its times are opinions. */
  guessed?: boolean;
  massGrams?: number;
  /** `listCents` is what a whole one costs by the list. */
  listCents?: number;
  mends: PartMend[];
  notes?: string;
}

/**
 * PartMend is what it takes to put a group of parts right when at least `from` of them are
 * hit in one fight, up to the group's next `from`. Rows of one group name belong together;
 * parts, way in and fasteners are those of its first row.
 */
export interface PartMend {
  group: string;
  /** `parts` are names as damage is filed on them. */
  parts?: string[];
  /**
   * `accessSec` and `accessBadSec` are the likely and the bad time to reach the group,
   * spent once a fight; both 0 for none.
   */
  accessSec?: number;
  accessBadSec?: number;
  /** `joints` is how many fasteners hold the group. */
  joints?: number;
  /** `name` says what is done: "swap the rail", "a new frame". */
  name: string;
  from: number;
  /** `each` counts time and money once a part hit, else once a fight. */
  each?: boolean;
  likelySec: number;
  badSec: number;
  costCents?: number;
}

/** ConstructionChange replaces what is said of a construction. It stays with its robot. */
export interface ConstructionChange extends ConstructionFields { construction: Id }

/** ConstructionRetire takes a construction out of the comparison. */
export interface ConstructionRetire { construction: Id }

/**
 * PackAdd enters a pack; nobody has read it yet. The name of one that was set aside is
 * never another's.
 */
export interface PackAdd extends PackFields {}

/** PackFields are what the captain says of a pack. */
export interface PackFields {
  name: string;
  chemistry: Chemistry;
  cells: number;
  parallel: number;
  capacityAh: number;
  /** `chargeAmpsMost` is the label's limit. */
  chargeAmpsMost: number;
  /** `fasterBy` is who allowed to charge it faster than 1C; nobody where it is empty. */
  fasterBy?: string;
  use: PackUse;
  /** `massGrams` is its mass in g; 0 is not known. */
  massGrams?: number;
  /** `fits` lists the robots it is for. */
  fits?: Id[];
}

/** Chemistry of a pack's cells. */
export type Chemistry = "lipo" | "lipo-hv" | "li-ion" | "life" | "nimh" | "agm";

/** PackUse says what a pack drives. */
export type PackUse = "main" | "weapon" | "transmitter" | "tool";

/** PackChange replaces what is said of a pack. */
export interface PackChange extends PackFields { pack: Id }

/** PackRetire takes a pack off the board: sold, or at home. */
export interface PackRetire { pack: Id }

/** PackMove says where a pack now is: at a place, or in a robot. */
export interface PackMove {
  pack: Id;
  place?: Id;
  robot?: Id;
  /** `found` says that it is in the robot already, whoever put it there and whatever it is. */
  found?: boolean;
}

/**
 * PackChoose says which robot's next fight a pack is for; no robot takes that back. The
 * board plans with it, and bars no other pack. A choice ends when the pack goes into a
 * robot, is set aside or is not one for that robot any more, when the robot is withdrawn
 * and when either leaves the board.
 */
export interface PackChoose { pack: Id; robot?: Id }

/** PackSet says what state a pack is in, as a person declares it. */
export interface PackSet { pack: Id; state: PackState; why?: string }

/** PackState is what a battery is known to be. */
export type PackState =
  | "unread" | "charged" | "in-robot" | "cooling" | "waiting" | "charging" | "storage" | "suspect"
  | "quarantined" | "gone";

/**
 * PackRead enters what a person read off a pack. Only a reading makes a pack charged; one
 * out of limits makes it suspect. What is hardly to be believed is asked again, and taken
 * with `sure`.
 */
export interface PackRead {
  pack: Id;
  cellVolts?: number[];
  tempC?: number;
  airC?: number;
  milliOhm?: number;
  returnedAh?: number;
  chargeMin?: number;
  look?: Look;
  charged?: boolean;
  /** `sure` says that the person who read it has looked again. */
  sure?: boolean;
}

/** Look is how a pack looks from outside. */
export type Look = "fine" | "swollen" | "torn" | "smells" | "smokes";

/**
 * PackCharge puts a pack on a charger's channel, with a named person who stays with it:
 * whoever gives it, or proves to be there, or someone who says so later.
 */
export interface PackCharge {
  pack: Id;
  channel: Id;
  attendant: Id;
  /** `cells` is how many were counted by hand on the balance lead. */
  cells: number;
  amps: number;
  /** `contained` says that it lies in fire-resistant containment, clear of what burns. */
  contained: boolean;
}

/**
 * PackAttend says that a person stays with a pack on a charger: they take it over, say so
 * of a charge that they were named for, or say that it still runs after the board was off.
 * Nobody says it for another, and what is older than another word about the charge changes
 * nothing.
 */
export interface PackAttend {
  pack: Id;
  /** `person` says so on someone else's device, proved by PIN. */
  person?: Id;
}

/**
 * PackOff takes a pack off its charger. It is unread until somebody reads it: elapsed time
 * makes no pack charged, and what was read on the charger does neither.
 */
export interface PackOff { pack: Id }

/** FightAdd enters a fight of ours. */
export interface FightAdd extends FightFields {}

/** FightFields are what people say of a fight. */
export interface FightFields {
  robot: Id;
  arena: string;
  /** `number` is its place in the arena's running order. */
  number: number;
  opponent?: string;
  /** `opponentKind` is the team's own word for it: "spinner". */
  opponentKind?: string;
  notBefore?: Time;
  /** `after` and `if`: the fight exists only if fight `after` ends so: "won" or "lost". */
  after?: Id;
  if?: Result;
}

/** Result is how a fight of ours ended. */
export type Result = "won" | "lost" | "drawn" | "forfeited" | "won-by-forfeit";

/** FightChange replaces what is said of a fight. */
export interface FightChange extends FightFields { fight: Id }

/** FightMove puts a fight at another place in the running order. */
export interface FightMove { fight: Id; arena: string; number: number; notBefore?: Time }

/** FightDrop takes a fight out of the running order. */
export interface FightDrop { fight: Id }

/**
 * FightNow says that fight `number` of an arena's running order is on now. Not every fight
 * needs it, and it need not be ours. When it is ours, the robot is taken to be in the
 * arena: on the board as live, or else unknown.
 */
export interface FightNow {
  arena: string;
  number: number;
  /** `sure` says that it is so, though a robot loses its signature by it. */
  sure?: boolean;
}

/** FightPostpone says that the event granted a fight the postponement. */
export interface FightPostpone { fight: Id }

/**
 * FightPause says that the promised gap after a fight of ours did not run for a while: the
 * officials had the robot, for a weigh-in or a check. Without To they still have it; the
 * same From with a To ends that.
 */
export interface FightPause extends Span { fight: Id }

/** Span is a stretch of time; `to` is 0 while it lasts. */
export interface Span { from: Time; to?: Time }

/**
 * FightNotFought says that a fight is still to come which was said to be on, or over. What
 * was inspected and answered before counts again, and it wore no module, where none was
 * changed since. It stands in the review.
 */
export interface FightNotFought { fight: Id; reason: string }

/**
 * FightEnd enters the result. A robot that fought is unknown, whatever the paper says, with
 * its packs in it.
 */
export interface FightEnd { fight: Id; result: Result }

/** DamageReport enters a damage. `accept` says, by who reports it, that it is left as it is. */
export interface DamageReport extends DamageFields { accept?: boolean }

/** DamageFields are what the finder says. */
export interface DamageFields {
  robot: Id;
  part: string;
  what?: string;
  grade: Grade;
  /** `fight` and `hit` say where it came from: the fight, and which hit of it. */
  fight?: Id;
  hit?: number;
  severity?: Severity;
  /**
   * `onPart` and `onJoint` say which part or joint of the part map it is on, at most one of
   * them; `part` is then its name where nothing else is said.
   */
  onPart?: Id;
  onJoint?: Id;
  /**
   * `stuck` members are jammed into each other and will not come apart; `destroyed` ones
   * broke when they were taken out.
   */
  stuck?: boolean;
  destroyed?: boolean;
  /** `worksPct` is how much of it still works as it is, 0 to 100 %; none where nobody said. */
  worksPct?: number;
  touches?: System[];
}

/** Grade says what a damage asks for: our decision. */
export type Grade = "G0" | "G1" | "G2" | "G3" | "G4" | "GX";

/** Severity is how hard a hit looked. */
export type Severity = "glancing" | "solid" | "hard";

/**
 * DamageRegrade gives a damage another grade, or drops it as no damage. Less than before
 * takes a reason.
 */
export interface DamageRegrade { damage: Id; grade: Grade; what?: string; drop?: boolean; reason?: string }

/** DamageAccept says by name that a small damage is left as it is. */
export interface DamageAccept {
  damage: Id;
  /** `person` accepts on someone else's device, proved by PIN. */
  person?: Id;
}

/**
 * DamageOff says that the damaged part is off its robot, and where it is; `back`, that it
 * is on again.
 */
export interface DamageOff { damage: Id; what?: string; back?: boolean }

/**
 * DamageLook is the look of other eyes at damage that could hurt people, once it is put
 * right or its part is off, and at graver damage whose part is off.
 */
export interface DamageLook {
  damage: Id;
  /** `person` looks on someone else's device, proved by PIN. */
  person?: Id;
}

/**
 * DamageMove puts a damage that was entered on the wrong robot on the right one, with its
 * photos and its hit.
 */
export interface DamageMove {
  damage: Id;
  robot: Id;
  /** `reason` says how one knows: the robot that it was on is rid of it. */
  reason: string;
}

/**
 * DamageOutcome says what became of a damage: stuck, destroyed when it was taken out, how
 * much of it works as it is.
 */
export interface DamageOutcome { damage: Id; stuck?: boolean; destroyed?: boolean; worksPct?: number }

/**
 * DamageHit says which hit a damage came from, also long after: what was found at home
 * joins its hit. Without a fight the hit is not known.
 */
export interface DamageHit { damage: Id; fight?: Id; hit?: number; severity?: Severity }

/** DamagePhoto hangs a photo, already stored, on a damage. */
export interface DamagePhoto { damage: Id; photo: Id }

/**
 * JobAdd enters a job: from a template, whose name, triage and fixes it takes where none
 * are given, or free. A free job is a must where nobody says how much it matters, and a fix
 * without a name has the job's.
 */
export interface JobAdd extends JobFields {
  /** `people` are those who are to do it; nobody is fine. */
  people?: Id[];
  /** `reason` says why, where work in the robot asks for no lockout. */
  reason?: string;
}

/** JobFields are what people say of a job. */
export interface JobFields {
  robot: Id;
  name: string;
  triage: Triage;
  fixes: Fix[];
  damages?: Id[];
  template?: Id;
  /** `after` lists the jobs whose hands must be done first. */
  after?: Id[];
  /** `followUpOf` is the patch that this job puts right. */
  followUpOf?: Id;
}

/** JobChange replaces what is said of a job that is not closed. */
export interface JobChange extends JobFields {
  job: Id;
  /** `reason` says why, where the job asks less now than it did. */
  reason?: string;
}

/** JobFix chooses the fix to be done. */
export interface JobFix { job: Id; chosen: number }

/** JobAssign says who is to do a job; nobody is fine. */
export interface JobAssign { job: Id; people: Id[] }

/** JobStart puts a person to work on a job. */
export interface JobStart {
  job: Id;
  /** `station` is where, when several are of the kind that the fix asks for. */
  station?: Id;
  /**
   * `fix` is what they were told to do, an index into Fixes, where the plan has another
   * than the first and nobody has chosen; 0 begins the one that is chosen.
   */
  fix?: number;
}

/**
 * JobHold stops a job for now and says what it waits for. While others are on it too,
 * whoever is at work ends their own work only; the robot's lead, the captain and event
 * safety stop it for all.
 */
export interface JobHold {
  job: Id;
  why: HoldWhy;
  text?: string;
  /**
   * `minutes` says when a part comes: in 5, 15, 30 or 60 minutes, 0 where nobody knows. It
   * may be said again while the job is on hold for it.
   */
  minutes?: number;
}

/** HoldWhy says what a held job waits for. */
export type HoldWhy = "part" | "person" | "station" | "clock" | "lockout" | "stopped";

/** JobResume takes a held job up again. */
export interface JobResume { job: Id; station?: Id }

/** JobJoin puts one more person on a job that others are at work on. */
export interface JobJoin { job: Id; station?: Id }

/** JobLeave ends one's own work on a job. The last to leave holds it. */
export interface JobLeave { job: Id }

/**
 * JobFinish says that the hands are done. The board closes the job by itself as soon as
 * every check it owes is answered.
 */
export interface JobFinish { job: Id }

/**
 * JobReinspect is the look at work that no lockout covered, by someone who did not do it:
 * the robot's lead, a captain with authority for it, event safety or a signer.
 */
export interface JobReinspect {
  job: Id;
  /** `person` looks on someone else's device, proved by PIN. */
  person?: Id;
}

/** JobReopen takes a job up again that was finished, closed, dropped or deferred. */
export interface JobReopen { job: Id; reason?: string }

/** JobDrop takes a job off as not needed. */
export interface JobDrop { job: Id; reason?: string }

/** JobDefer leaves a fault as it is for now, with someone who answers for it. */
export interface JobDefer { job: Id; acceptor: Id; reason: string }

/** TagOn puts on a person's own tag. */
export interface TagOn {
  robot: Id;
  /**
   * `person` is the tag's owner on someone else's device, proved by PIN; else the device's
   * own person.
   */
  person?: Id;
  isolator?: string;
}

/**
 * TagOff takes a tag off. Only its owner can: on their own device, or by their PIN on
 * another.
 */
export interface TagOff { tag: Id }

/**
 * HandsOn says that a person's hands are near a robot. It is never refused for the robot's
 * state: a robot that the board took to be powered is unknown now.
 */
export interface HandsOn { robot: Id; person?: Id }

/** HandsOff lifts a person's own hands near. */
export interface HandsOff { hands: Id }

/**
 * TagOverride takes an absent person's tag off: two named people, one of them the robot's
 * lead, with typed answers. There is no shorter way.
 */
export interface TagOverride extends Override {
  tag: Id;
  /** `second` is the second person, who types their own PIN. */
  second: Id;
}

/**
 * Override holds the typed answers that 29 CFR 1910.147(e)(3) asks for in its exception, in
 * our words: the owner is not here, everything was done to reach them, and the robot was
 * looked at.
 */
export interface Override {
  lookedWhere: string;
  calledHow: string;
  calledAt: Time;
  /** `checkedBy` is who looked at the robot by eye. */
  checkedBy: Id;
  reason: string;
  /**
   * `asked` says that they were looked for and asked again since they last did something on
   * the board, where that was just now.
   */
  asked?: boolean;
}

/** HandsOverride lifts the hands near of someone who has gone, in the same way. */
export interface HandsOverride extends Override { hands: Id; second: Id }

/** NoticeTake acknowledges a notice. Only the person it is for can. */
export interface NoticeTake { notice: Id }

/**
 * SheetAnswer answers one line of a sheet. The last answer of a part moves the robot's
 * state by itself.
 */
export interface SheetAnswer {
  sheet: Id;
  line: string;
  said: Said;
  /** `number` is what a gauge or scale reads; a line that asks for it needs it. */
  number?: number;
  place?: Id;
  pack?: Id;
  told?: Id;
  choice?: string;
  /** `sure` says that the person who read the scale has looked again. */
  sure?: boolean;
  /** `person` answers on someone else's device, proved by PIN. */
  person?: Id;
  /** `paper` enters what was answered on paper, `at` the time written there. */
  paper?: boolean;
  at?: Time;
}

/** Said is what a person answered to a line. */
export type Said = "done" | "no" | "not-fitted" | "suspect" | "owed" | "alone";

/** RobotDoubt sets a robot unknown. Anyone may, at any time, whatever `why` says. */
export interface RobotDoubt { robot: Id; why: string }

/**
 * RobotStop stops everything on a robot, whatever state it is in: it is unknown, its jobs
 * are held, a signature is withdrawn, and until the stop is lifted no job begins and no
 * power comes.
 */
export interface RobotStop { robot: Id; why: string }

/** RobotGoOn lifts a stop. The robot stays unknown and its jobs stay held. */
export interface RobotGoOn { robot: Id }

/**
 * RobotLoadIn begins a robot's load-in inspection. It says nothing of its power and lasts
 * whatever state the robot is in.
 */
export interface RobotLoadIn { robot: Id }

/** RobotList begins a robot's overnight or pack-up list; a new day takes a new one. */
export interface RobotList { robot: Id; list: SheetList }

/**
 * RobotFit says which setup is on a robot now, or which modules where it is none of the
 * setups.
 */
export interface RobotFit { robot: Id; setup?: Id; modules?: Id[] }

/** RobotWeigh enters what a scale reads of a robot as it stands. */
export interface RobotWeigh {
  robot: Id;
  grams: number;
  scale?: string;
  stepGrams?: number;
  /** `sure` says that the person who read the scale has looked again. */
  sure?: boolean;
}

/**
 * RobotPlace says where a robot is. One that is put into the arena without having been
 * declared live is unknown there.
 */
export interface RobotPlace {
  robot: Id;
  place: Id;
  /**
   * `sure` says that it is so, though the robot loses its signature by it, or there is an
   * emergency.
   */
  sure?: boolean;
}

/**
 * RobotCloseUp begins the closing-up sheet, at the lead's word, when the blocking jobs are
 * finished. Where nobody went under the covers since it was verified, the first-in lines
 * are not owed.
 */
export interface RobotCloseUp { robot: Id }

/** RobotReopen goes back from closing up to work: the lock and the link are looked at again. */
export interface RobotReopen { robot: Id }

/** RobotTest turns power on for one test at a test box or the arena. */
export interface RobotTest { robot: Id; what: string; place: Id; minutes: number }

/** RobotTestEnd ends a test early. The robot is unknown, as after every test. */
export interface RobotTestEnd { robot: Id }

/** RobotLive declares a ready robot energised, in the arena, on the call. */
export interface RobotLive { robot: Id; place: Id }

/**
 * EmergencyRaise raises an emergency. Anyone may, minors and guests too, and nothing that
 * they say or leave out stands in the way. A robot that it is about is unknown, and so is
 * every robot that stands there: people have left it as it was.
 */
export interface EmergencyRaise { robot?: Id; place?: Id; what?: string }

/**
 * EmergencyEnd says that an emergency is over, and how. It brings nothing back: a robot it
 * was about stays unknown.
 */
export interface EmergencyEnd { emergency: Id; how: string }

/**
 * AlarmTake says that a named person sees to an alarm: it stops sounding. One that came
 * late is dated when it was said, so that it takes no later alarm.
 */
export interface AlarmTake { alarm: string }

/**
 * WorkTake says that a person goes to a piece of work that their own phone offers them:
 * nobody else is sent to it for some minutes. Who says it last has it; a word that comes
 * late changes nothing where another was said since. What is done is said by the command
 * that does it.
 */
export interface WorkTake {
  /** `work` is the name that the forecast gives it: read-0192… */
  work: string;
}

/**
 * AlarmShelve puts an alarm aside for some minutes, with a reason: never one of the top
 * class, and never past the next call.
 */
export interface AlarmShelve {
  alarm: string;
  minutes: number;
  reason: string;
  /**
   * `nextCall` is the next call to staging that the screen shows, where there is one. The
   * forecast ends a shelving at the call in any case.
   */
  nextCall?: Time;
}

/**
 * TimeSet moves the board's time, and all that is dated by it: how long ago a thing was
 * stays as it is. What people entered by the event's own clock stays where it is. The
 * command is done at the time it sets. After it nothing that was declared counts.
 */
export interface TimeSet {
  bySec: number;
  /** `sure` says that the captain has looked at the date again. */
  sure?: boolean;
}

/**
 * LearnSet switches the team's own times on or off for one kind of work. The board corrects
 * nothing by itself.
 */
export interface LearnSet { kind: string; on: boolean }

/**
 * PlanReplace gives people another plan to follow. The desk gives it where the forecast has
 * found one that is better by a step people notice, or where there is work that the plan
 * does not know.
 */
export interface PlanReplace { tasks: PlanTask[]; charges?: PlanCharge[] }

/** PlanTask is one job of a new plan. */
export interface PlanTask extends Told { job: Id; endAt?: Time }

/** Told is what people were told of a job: left off, or with whom, by which fix and when. */
export interface Told { off?: boolean; people?: Id[]; fix?: number; startAt?: Time }

/** PlanCharge is one charge of a new plan. */
export interface PlanCharge extends ToldCharge { pack: Id; endAt: Time }

/** ToldCharge is what people were told of a pack. */
export interface ToldCharge {
  robot: Id;
  channel: Id;
  /** `amps` is the current, within the limits of pack and channel. */
  amps: number;
  startAt: Time;
}

/** NoteAdd writes a note. */
export interface NoteAdd { about?: string; text: string }

/** NoteSettle says that what a replaced board held back is entered again, or no longer holds. */
export interface NoteSettle { note: Id }

/**
 * Undo takes back a command that its author gave within the last ten minutes, unless
 * someone has changed the same nouns since. A safety answer is never undone: a new answer
 * corrects it.
 */
export interface Undo { command: Id }

/**
 * Event is what the organisers and the captain set for the day. Rule sets differ, so
 * nothing that bears on safety has a silent default.
 */
export interface Event extends EventFields {
  v: number;
  entered: Entered;
  /** `once` is what it asked before: where it no longer asks that, it prints as relaxed. */
  once?: EventOnce;
  /** `loosened` lists by whose word a setting asked less than before, and until when. */
  loosened?: Loosened[];
}

/** Entered says when the settings that rule 20 asks for were last entered. */
export interface Entered {
  activationOrder?: Time;
  spinDown?: Time;
  chargingPlaces?: Time;
  emergencyContact?: Time;
  card?: Time;
}

/** EventOnce is what the event has asked and may be without. */
export interface EventOnce {
  loadIn?: boolean;
  hotWork?: boolean;
  /** `failsafe` says that it was to be proven under power. */
  failsafe?: boolean;
}

/**
 * Loosened is a word of authority that a job asks less than it did: no must any more, or
 * less lockout. It stands in the review.
 */
export interface Loosened {
  what: string;
  reason: string;
  by: Id;
  at: Time;
  /** `setting` is the setting that was made weaker, `until` when it was put back. */
  setting?: string;
  until?: Time;
  /** `hurt` is the robot that had damage which could hurt people, and by this word has none. */
  hurt?: Id;
}

/** Person is someone in the pit. The PIN is kept apart and is never a noun. */
export interface Person extends PersonFields {
  id: Id;
  v: number;
  /** `claimed` is when a device first took this name. */
  claimed?: Time;
  /** `claimedOn` is whose device that was, where it is another's. */
  claimedOn?: Id;
  retired?: boolean;
  /**
   * `briefedAt` is when `briefedBy` told the person how the pit works, and what to do in an
   * emergency.
   */
  briefedAt?: Time;
  briefedBy?: Id;
  /** `forgotten` is when their PIN was last forgotten, so that another could be set. */
  forgotten?: Forgotten;
  /** `loosened` lists by whose word they are no minor any more, or a signer, oldest first. */
  loosened?: Loosened[];
}

/** Forgotten says who had a PIN forgotten, and when. */
export interface Forgotten { by?: Id; at: Time; rev: number }

/** Robot is one of the team's robots. */
export interface Robot extends RobotFields {
  id: Id;
  v: number;
  /** `withdrawn` robots have no calls any more; they keep their lockout. */
  withdrawn?: boolean;
  retired?: boolean;
  /** `names` are what it was called before. */
  names?: string[];
  /** `once` is the most that it asked: where it asks less now, that prints. */
  once?: RobotOnce;
  /**
   * `loosened` lists by whose word an energy or a lock was taken off, or whoever isolated
   * it verifies it, oldest first.
   */
  loosened?: Loosened[];
}

/** RobotOnce is the most that a robot has asked; EventOnce what the event has. */
export interface RobotOnce {
  energies?: Energy[];
  links?: number;
  locks?: Lock[];
  secondVerifier?: boolean;
  mainPacks?: number;
  weaponPacks?: number;
  /** `limitGrams` is the lowest limit of its class. */
  limitGrams?: number;
}

/** Power is one robot's power state with who declared it. */
export interface Power {
  robot: Id;
  v: number;
  state: PowerState;
  since?: Time;
  by?: Id;
  /**
   * `why` says why the state is unknown; `conflict` that people may have been in reach when
   * it became so.
   */
  why?: string;
  conflict?: boolean;
  /** `day` is the event day on which a person declared the state. */
  day?: string;
  place?: Id;
  isolatedBy?: Id;
  verifiedBy?: Id;
  verifiedAt?: Time;
  readyBy?: Id;
  /** `readyOn` is whose device that was signed on, where it is another's. */
  readyOn?: Id;
  test?: TestRun;
  /** `foughtAt` is when it was last known to be in a fight: no answer from before that holds. */
  foughtAt?: Time;
  /** `liveAt` is when it was last declared live. */
  liveAt?: Time;
  /**
   * `offAt` is when the board heard that it is powered down: what is still turning or
   * charged has that long.
   */
  offAt?: Time;
  /**
   * `poweredAt` is when its last test ended as it should: what is broken off, or lasted a
   * few seconds, proves nothing.
   */
  poweredAt?: Time;
  /** `fitted` lists the packs that were in it at the signature. */
  fitted?: Id[];
  /** `failsafeOwed` says that the failsafe is to be shown at the officials' check. */
  failsafeOwed?: boolean;
  /** `stop` stands until event safety lifts it. */
  stop?: Stop;
  /**
   * `covered` lists when the robot was in work under a verified lockout, `packOut` when
   * every pack of it was recorded out of it, oldest first.
   */
  covered?: Span[];
  packOut?: Span[];
  /**
   * `own` lists whose tag or hands near was on it and is off again, in the order in which
   * they came off.
   */
  own?: OwnSpan[];
}

/**
 * PowerState is how far a robot is from being able to hurt someone, as people declared it.
 * Unknown is the default and is treated as live.
 */
export type PowerState =
  | "unknown" | "live" | "powered-down" | "isolated" | "verified" | "work" | "closing-up" | "test" | "ready";

/** TestRun is power on for one named test, at one place, until a set time. */
export interface TestRun { what: string; place: Id; until: Time; by: Id }

/** Stop is event safety's word that nothing goes on with a robot. */
export interface Stop { by: Id; at: Time; why: string }

/** OwnSpan is a stretch in which one person's tag, or hands near, was on a robot. */
export interface OwnSpan extends Span { person: Id }

/** Place is somewhere a robot or a pack can be. */
export interface Place extends PlaceFields {
  id: Id;
  v: number;
  retired?: boolean;
  /** `once` is what it was before it was changed, where that is so no more. */
  once?: PlaceOnce;
  /**
   * `loosened` lists by whose word it became another kind of place while a robot stood
   * there, oldest first.
   */
  loosened?: Loosened[];
}

/** PlaceOnce is how a place was called, and what it was for, before it was changed. */
export interface PlaceOnce { name?: string; kind?: PlaceKind }

/** Station is somewhere to work; Count jobs fit on it at once. */
export interface Station extends StationFields { id: Id; v: number; retired?: boolean }

/** Stock is a kind of spare with how many are left. */
export interface Stock extends StockFields { id: Id; v: number; retired?: boolean }

/** Pack is one battery. */
export interface Pack extends PackFields {
  id: Id;
  v: number;
  state: PackState;
  /**
   * `place` is where it lies; `robot` is what it is in. At most one is set; neither means
   * that nobody has said.
   */
  place?: Id;
  robot?: Id;
  /**
   * `placedAt` is when it was seen there; `perhaps` is where it lies by the crew's last
   * word, where it was set aside and only a guest or a minor has said that it is elsewhere.
   */
  placedAt?: Time;
  perhaps?: Id;
  /** `cameBack` holds from the robot's return until the pack is placed or suspect. */
  cameBack?: boolean;
  /**
   * `unread` holds in a robot while nobody has read its cells since it was used last: it
   * went in so, or was in a fight or a test. `powered` holds from when it gave power there,
   * or may have, until its cells are read: it is unread when it comes out. `found` is set
   * where nobody fitted it: it was found there.
   */
  found?: boolean;
  unread?: boolean;
  powered?: boolean;
  reading?: Reading;
  /** `lost` holds for one that is gone and was for use when someone said so. */
  lost?: boolean;
  /**
   * `channel` and `attendant` hold while it charges, `channel` also for one that was set
   * aside there, until someone says where it is; `amps` until it is read after that.
   */
  channel?: Id;
  attendant?: Id;
  /**
   * `attendAt` is when the attendant said so, none where only another named them. `unsure`
   * holds from a restart of the board, or a doubt, until someone says that it still
   * charges; `unsureAt` is when that began.
   */
  attendAt?: Time;
  /** `stayedAt` is when someone last said so before a doubt. */
  stayedAt?: Time;
  unsure?: boolean;
  unsureAt?: Time;
  /** `heardLate` is what came late about a charge of it, the last time. */
  heardLate?: LateWord;
  /**
   * `away` is where the attendant was seen out of its sight, until someone says that they
   * stay with it.
   */
  away?: AwayAt;
  amps?: number;
  /**
   * `stopped` is the circuit that went off while it charged: what became of the charge is
   * unknown until somebody looks.
   */
  stopped?: Id;
  /**
   * `usedAt` is when it last gave power in a robot, was put on a charger or came off, or
   * its record was changed; readings from before say nothing any more. `fought` is the
   * robot it came out of since it was last charged.
   */
  usedAt?: Time;
  fought?: Id;
  /** `chosenFor` is the robot whose next fight someone chose it for. */
  chosenFor?: Id;
  /** `reweighAt` is when its record was changed so that it may weigh something else. */
  reweighAt?: Time;
  since?: Time;
  retired?: boolean;
}

/**
 * Reading is what a person read off a pack. What one reading leaves out is kept from the
 * one before, if the pack has not been used in between.
 */
export interface Reading {
  at: Time;
  by: Id;
  /**
   * `cellVolts` holds a figure a cell, at rest. `cellsAt` and `tempAt` are when they were
   * read, none where that is `at`.
   */
  cellVolts?: number[];
  cellsAt?: Time;
  tempC?: number;
  tempAt?: Time;
  /** `airC` is the air where the pack lies. */
  airC?: number;
  /** `milliOhm` is of one cell, as the team's own instrument shows it. */
  milliOhm?: number;
  /** `returnedAh` and `chargeMin` are what the charger's own counters show. */
  returnedAh?: number;
  chargeMin?: number;
  look?: Look;
  /** `charged` says that the charger had ended the charge. */
  charged?: boolean;
  /**
   * `fought` is the robot it came out of since it was last charged, `amps` the current it
   * was charged at.
   */
  fought?: Id;
  amps?: number;
}

/** LateWord is what a phone brought late about a charge, as the review shows it. */
export interface LateWord { what: string; by?: Id; at: Time; heard: Time }

/** AwayAt is what someone did at a robot out of sight of the charge that they stay with. */
export interface AwayAt { robot: Id; at: Time }

/**
 * PackLog is what was read off a pack, oldest first: the last 60 readings, each as it was
 * entered.
 */
export interface PackLog { pack: Id; v: number; readings: Reading[] }

/** Channel is one output of a charger. */
export interface Channel extends ChannelFields { id: Id; v: number; retired?: boolean }

/**
 * Circuit is a mains circuit that chargers share. Its figures come from the person who
 * answers for the wiring; the board has no default.
 */
export interface Circuit extends CircuitFields {
  id: Id;
  v: number;
  /** `offAt` is since when it is off, `offBy` who said so; none while it is on. */
  offAt?: Time;
  offBy?: Id;
  retired?: boolean;
}

/** Template is a kind of job the team knows, with starting times. */
export interface Template extends TemplateFields {
  id: Id;
  v: number;
  retired?: boolean;
  /** `once` is the most that it asked: where it asks less now, that prints. */
  once?: TemplateOnce;
  /** `loosened` lists by whose word it asks less than it did. */
  loosened?: Loosened[];
}

/** TemplateOnce is the most that a kind of job has asked, of each fix by its name. */
export interface TemplateOnce { must?: boolean; fixes?: Fix[] }

/** Fight is a fight of ours in the running order. */
export interface Fight extends FightFields {
  id: Id;
  v: number;
  state: FightState;
  result?: Result;
  onAt?: Time;
  endAt?: Time;
  /**
   * `liveAt` is when its robot was declared live for it; a fight that has none proves
   * nothing.
   */
  liveAt?: Time;
  /** `setup` is what the robot fought in, where someone had said. */
  setup?: Id;
  /**
   * `leftAt` and `benchAt` are when someone first said that the robot was out of the arena,
   * and back at a bench: the promised gap may be counted from there.
   */
  leftAt?: Time;
  benchAt?: Time;
  /** `postponed` is the postponement the event granted it. */
  postponed?: Postponed;
  /** `over` is when its robot was last taken to have been in it, and in a fight before that. */
  over?: Overtaken;
  /** `loosened` lists by whose word it was not fought after all, oldest first. */
  loosened?: Loosened[];
  /** `pauses` are the times after its end that the promised gap does not count. */
  pauses?: Span[];
}

/** FightState is where one of our fights stands. */
export type FightState = "planned" | "on" | "done" | "dropped";

/** Postponed is a postponement that was granted to a fight. */
export interface Postponed {
  at: Time;
  by?: Id;
  /** `sec` is how much later the fight comes, in seconds. */
  sec: number;
}

/**
 * Overtaken is what a fight took of its robot's past: no answer from before `at` holds, and
 * none from before `was` held until then.
 */
export interface Overtaken { at?: Time; was?: Time }

/** Sighting is someone's word that a fight of the running order, ours or not, is on now. */
export interface Sighting { id: Id; v: number; arena: string; number: number; at: Time; by?: Id }

/** Damage is what the strip and the inspection found. */
export interface Damage extends DamageFields {
  id: Id;
  v: number;
  number: number;
  by?: Id;
  at: Time;
  photos?: Id[];
  dropped?: boolean;
  /**
   * `gradedAt` is when it got the grade it has, `raisedAt` when it was reported or last
   * graded up: only work since then puts it right. `loosened` lists by whose word it counts
   * for less than before, oldest first.
   */
  gradedAt?: Time;
  raisedAt?: Time;
  loosened?: Loosened[];
  /** `acceptor` answers for its being left as it is. */
  acceptor?: Id;
  acceptedAt?: Time;
  /**
   * `off` says that the part is off the robot, `backAt` when one that was off was last put
   * on again; `looked` who looked at it after it was put right.
   */
  off?: PartOff;
  backAt?: Time;
  looked?: Reinspection;
}

/**
 * PartOff says that the damaged part is off its robot: the weapon not fitted, the pack set
 * aside.
 */
export interface PartOff { what: string; by: Id; at: Time }

/** Reinspection is someone's look at work that no lockout covered. */
export interface Reinspection { by: Id; at: Time }

/** Job is a piece of work on a robot. */
export interface Job extends JobFields {
  id: Id;
  v: number;
  number: number;
  /** `chosen` is the fix to be done, an index into Fixes. */
  chosen?: number;
  assigned?: Id[];
  state: JobState;
  heldFor?: HoldWhy;
  heldText?: string;
  /** `part` is when the part was to come that a held job waits for. */
  part?: PartComing;
  stints?: Stint[];
  /** `started` is when the robot was first worked on for this job. */
  started?: Time;
  finishedBy?: Id;
  finishedAt?: Time;
  closedAt?: Time;
  /** `reinspected` is the lead's word for time that no lockout covers. */
  reinspected?: Reinspection;
  /** `loosened` lists by whose word the job asks less than it did, oldest first. */
  loosened?: Loosened[];
  /** `acceptor` answers for a deferred job. */
  acceptor?: Id;
  reason?: string;
  by?: Id;
  at: Time;
}

/** JobState is how far a job is. */
export type JobState = "open" | "running" | "held" | "finished" | "closed" | "dropped" | "deferred";

/**
 * PartComing is what was said of a part that is on its way: at `at`, in so many minutes, 0
 * where nobody knew.
 */
export interface PartComing { at?: Time; minutes?: number }

/** Stint is one stretch of work on a job. */
export interface Stint extends Span {
  by: Id;
  /**
   * `held` says why it ended, when it ended by a hold; `endedBy` who ended it, where
   * another did.
   */
  held?: HoldWhy;
  endedBy?: Id;
  /** `late` is when the board heard of its start or its end, where that was not at once. */
  late?: Time;
  /** `fix` is the fix that was being done. */
  fix?: number;
  /** `station` is where it was done, where someone said so. */
  station?: Id;
}

/** Sheet is one walk of one list. */
export interface Sheet {
  id: Id;
  v: number;
  /** `number` counts a robot's sheets from 1, in the order in which they began. */
  number: number;
  list: SheetList;
  version: number;
  robot: Id;
  state: SheetState;
  openedAt: Time;
  endedAt?: Time;
  lines: Line[];
  answers?: Answer[];
}

/** SheetState says whether a sheet is being walked. */
export type SheetState = "open" | "complete" | "unanswered";

/** Line is one question of a sheet. */
export interface Line {
  id: string;
  part: string;
  kind: LineKind;
  /** `ask` is the question, `touch` what to put a hand on while answering. */
  ask: string;
  touch?: string;
  /** `say` and `not` are the words on the two buttons. */
  say: string;
  not?: string;
  /** `notFitted` tells that "not fitted" is an answer. */
  notFitted?: boolean;
  /**
   * `verifies` tells that the answer says that an energy is really away: a phone has it
   * held, so that no tap on its way to something else gives it.
   */
  verifies?: boolean;
  covers?: System[];
  energy?: EnergyKind;
  pack?: Id;
  unit?: string;
  /** `least` and `most` are the limits of a figure. */
  least?: number;
  most?: number;
  choices?: string[];
}

/** Answer is one person's answer to one line. Answers are appended, never changed. */
export interface Answer {
  line: string;
  said: Said;
  number?: number;
  place?: Id;
  pack?: Id;
  told?: Id;
  choice?: string;
  by: Id;
  /** `on` is whose device it was given on, where that is another's. */
  on?: Id;
  at: Time;
  /** `sure` marks a figure that the board asked about and that was said again. */
  sure?: boolean;
  /** `standing` marks an answer of an earlier sheet that still holds. */
  standing?: boolean;
  /** `paper` marks an answer first given on paper, at `at`, and entered at `enteredAt`. */
  paper?: boolean;
  enteredAt?: Time;
  /** `record` marks one that is kept and answers nothing: the line is still to be answered. */
  record?: boolean;
}

/** Tag is one person's word that they are working on a robot. */
export interface Tag { id: Id; v: number; robot: Id; person: Id; isolator?: string; at: Time }

/**
 * Hands is the same warning from anyone: it blocks power as a tag does, and gives no
 * authority.
 */
export interface Hands { id: Id; v: number; robot: Id; person: Id; at: Time }

/** Note is a few words about something on the board. */
export interface Note {
  id: Id;
  v: number;
  about?: string;
  text: string;
  by?: Id;
  at: Time;
  /**
   * `held` marks what a replaced board held back, until `settledBy` says that it is entered
   * again or no longer holds.
   */
  held?: boolean;
  settledBy?: Id;
  settledAt?: Time;
}

/**
 * Notice tells a person that their tag or hands near were taken off by others. Until they
 * acknowledge it they can put on no tag.
 */
export interface Notice extends Override {
  id: Id;
  v: number;
  person: Id;
  robot: Id;
  by: Id;
  second: Id;
  at: Time;
  /** `taken` is when the person acknowledged it. */
  taken?: Time;
}

/**
 * Emergency is someone's word that something has happened that is an emergency. `what`
 * people are to do then comes from the officials' card and from nowhere else.
 */
export interface Emergency {
  id: Id;
  v: number;
  /**
   * `robot` and `place` say where, as far as anyone said; `stood` where the robot stood
   * when it was raised, if nobody named a place.
   */
  robot?: Id;
  place?: Id;
  stood?: Id;
  what?: string;
  by?: Id;
  at: Time;
  /** `endedBy`, `endedAt` and `how` say who ended it, when, and how it ended. */
  endedBy?: Id;
  endedAt?: Time;
  how?: string;
}

/**
 * Mark is what people did about an alarm: who took it, and how long it is shelved. It
 * counts until the state that the alarm is about changes again. Who has a piece of work is
 * kept as the mark of its name behind W-.
 */
export interface Mark {
  id: string;
  v: number;
  takenBy?: Id;
  takenAt?: Time;
  /** `shelvedBy` put it aside until `shelvedUntil`, for a reason. */
  shelvedBy?: Id;
  shelvedAt?: Time;
  shelvedUntil?: Time;
  reason?: string;
}

/**
 * Wording is what the event or the team made of one list of lines: other words, another
 * order, lines of its own. Sheets keep the lines that they began with.
 */
export interface Wording {
  list: SheetList;
  v: number;
  /** `version` counts up with every change. */
  version: number;
  lines?: WordedLine[];
  /**
   * `out` lists the lines that it leaves out of those the list had when it was worded: one
   * that came later stands on the sheets. It is nil on a wording from before this was kept,
   * which leaves out whatever it does not name and may.
   */
  out?: string[];
  by?: Id;
  at: Time;
}

/**
 * Follow is the plan that people follow: who does which job how, and in which order, and
 * which pack is charged where. It is replaced as a whole, by PlanReplace alone. Jobs it
 * does not name came later; those that are done meanwhile stay in it until it is replaced.
 */
export interface Follow {
  v: number;
  by: FollowBy;
  /** `person` put it there; "" where the board did. */
  person?: Id;
  at: Time;
  tasks: FollowTask[];
  /** `charges` are those of the packs that robots wait for. */
  charges?: FollowCharge[];
  /** `moved` lists the jobs that the plan before had otherwise, each with its Was. */
  moved: Id[];
}

/** FollowBy says whose plan it is. */
export type FollowBy = "board" | "person";

/**
 * FollowTask is what the plan says of one job. Its times are those of the moment at which
 * the plan was made: they give the order, and slip with the day.
 */
export interface FollowTask extends Told {
  job: Id;
  robot: Id;
  endAt?: Time;
  /** `was` is what people were told before, where that was something else. */
  was?: Told;
}

/**
 * FollowCharge is what the plan that people follow says of one pack: the robot it is for,
 * and which channel charges it when. It charges nothing by itself, and bars no other
 * charge.
 */
export interface FollowCharge extends ToldCharge {
  pack: Id;
  endAt: Time;
  /** `was` is what people were told before, where that was something else. */
  was?: ToldCharge;
}

/** Learn is the captain's word that the team's own times count for a kind of work. */
export interface Learn { kind: string; v: number; on: boolean; by?: Id; at: Time }

/**
 * Foretold is a chance that was given before a call, and whether the call was met. One is
 * kept for each fight, at one lead, so that many looks at one call do not count as many
 * calls.
 */
export interface Foretold {
  fight: Id;
  v: number;
  robot: Id;
  /**
   * `ready` is the chance in tenths, 0 to 10, as it was shown at `at` for the call at
   * `callAt`.
   */
  ready: number;
  at: Time;
  callAt: Time;
  /** `judged` is when the call came; `met` whether the robot was signed for then. */
  judged?: Time;
  met?: boolean;
}

/** Part is one part of one robot, as its part map has it. */
export interface Part extends PartFields {
  id: Id;
  v: number;
  retired?: boolean;
  /** `bends` are how far from straight it was measured, oldest first. */
  bends?: Bend[];
}

/**
 * Bend is how far from straight a part was, measured with a straightedge on its hollow
 * side: the widest gap under it, over the length it lay on.
 */
export interface Bend {
  gapMm: number;
  overMm: number;
  /** `fight` is the robot's last fight that had begun by then. */
  fight?: Id;
  by?: Id;
  at: Time;
}

/** Joint is where parts of a robot are fastened to each other. */
export interface Joint extends JointFields { id: Id; v: number; retired?: boolean }

/**
 * Module is a thing that goes into one of a robot's slots: an armour panel, a pair of
 * forks, a weapon.
 */
export interface Module extends ModuleFields {
  id: Id;
  v: number;
  /** `worn` is how many fights it has been through. */
  worn?: number;
  retired?: boolean;
}

/** Setup is a choice of modules for a robot's slots. */
export interface Setup extends SetupFields { id: Id; v: number; retired?: boolean }

/**
 * Construction is one way to build a robot's structure, as data for the debrief: what is
 * built, or what might be. It changes nothing on the board.
 */
export interface Construction extends ConstructionFields { id: Id; v: number; retired?: boolean }

/** Fit is what is fitted to a robot now, and what it weighed last. It is keyed by the robot. */
export interface Fit {
  robot: Id;
  v: number;
  /** `setup` is the one that was named; the modules may be those of none. */
  setup?: Id;
  modules?: Id[];
  by?: Id;
  /** `at` is when the modules were last changed. */
  at?: Time;
  weighed?: Weighing;
}

/** Weighing is one reading of a scale with all that was on the robot. */
export interface Weighing {
  grams: number;
  /** `scale` names the scale, `stepGrams` is the step it shows; "" and 0 where nobody said. */
  scale?: string;
  stepGrams?: number;
  modules?: Id[];
  packs?: Id[];
  /** `sure` marks a reading that the board asked about and that was said again. */
  sure?: boolean;
  by?: Id;
  at: Time;
}

/**
 * Clock is what was done to the board's time. Whoever sets the laptop's clock moves it by
 * nothing.
 */
export interface Clock {
  v: number;
  /**
   * `shiftSec` is by how much the board's time was moved in all: what a phone dated before
   * it heard of that is moved by the rest.
   */
  shiftSec: number;
  /**
   * `bySec` is by how much it was moved last, by `by`, `at` the time it was moved to. `by`
   * is nobody where a backup does not know them.
   */
  bySec: number;
  by?: Id;
  at?: Time;
}

/** Call is a robot's next fight and whether it will be ready (call/<robotID>). */
export interface Call {
  robot: Id;
  fight?: Id;
  arena?: string;
  number?: number;
  opponent?: string;
  /** `if` says that the fight exists only if another ends so. */
  if?: Result;
  startAt?: Spread;
  callAt?: Spread;
  /** `callNow`: the call is due or past. `onNow`: the robot is in the arena. */
  callNow: boolean;
  onNow: boolean;
  /**
   * `handsOnSec` is what is left to work in before the call, overheads taken off; `needSec`
   * what the plan takes from the first job to the end of the last.
   */
  handsOnSec: number;
  needSec: number;
  /**
   * `readyAt` is the planned moment at which the robot is ready for the call, `readyBadAt`
   * the bad case; none if a job cannot be done at all.
   */
  readyAt?: Time;
  readyBadAt?: Time;
  flag: Flag;
  cause: Cause;
  /**
   * `uninspected`: it has fought since it was last inspected, so that nobody knows yet what
   * there is to do.
   */
  uninspected: boolean;
  /** `shortSec` is how far `readyAt` is past the call. */
  shortSec: number;
  /**
   * `branches` are the fights that depend on a result that is still out, each with its own
   * countdown.
   */
  branches: Branch[];
  /** `postpone` is none where the event grants no postponement, or there is no fight to come. */
  postpone?: Postpone;
}

/** Spread is a moment with its uncertainty: 1 in 10 is before `early`, 9 in 10 before `late`. */
export interface Spread { early: Time; median: Time; late: Time }

/** Flag says whether work is done by the call. */
export type Flag = "none" | "tight" | "wont-finish" | "no-call";

/** Cause is the one thing that matters most, in a sentence. */
export interface Cause {
  kind: CauseKind;
  text: string;
  /** `job` is the short number of the job it is about, 0 where it is about none. */
  job?: number;
}

/** CauseKind is what holds work up. */
export type CauseKind = "" | "person" | "station" | "part" | "clock" | "charge";

/**
 * Branch is a fight that comes only if another is won, or lost, or with `if` "" the one
 * that comes after the next in any case. Both ends are planned for: the plan is made
 * against the earlier call until the result is in.
 */
export interface Branch {
  fight: Id;
  if?: Result;
  arena: string;
  number: number;
  opponent?: string;
  callAt?: Spread;
  /**
   * `handsOnSec` is what its call leaves to work in after the fight before it, and
   * `readyAt` when the work that is known now is done and signed for. `shortSec` is how far
   * that is past the call.
   */
  handsOnSec: number;
  readyAt?: Time;
  shortSec: number;
  flag: Flag;
}

/**
 * Postpone is the postponement of a fight, where the event grants one: whether the robot
 * may ask for it, and if not, why.
 */
export interface Postpone {
  sec: number;
  may: boolean;
  why?: string;
  /** `granted` is when this fight was given it. */
  granted?: Time;
}

/**
 * Chance says on how many of 10 such days a robot is ready for its next call
 * (chance/<robotID>). There is none without a call, and none in the arena.
 */
export interface Chance {
  robot: Id;
  fight: Id;
  /**
   * `ready` of `of`, rounded: 0 is fewer than one, 10 is more than nine. None while
   * `uninspected`.
   */
  ready?: number;
  of: number;
  /** `cause` is the one thing that matters most, where the robot is flagged. */
  cause?: Cause;
  /**
   * `uninspected`: nobody knows yet what there is to do, so that there is no chance to
   * give. The work will take from `needLowSec` to `needHighSec`, 8 of 10 times: what is
   * known of, and what a fight that hit so hard leaves to be found.
   */
  uninspected: boolean;
  needLowSec?: number;
  needHighSec?: number;
}

/**
 * LeaveOff is what would help a robot that is flagged, what helps all robots together most
 * first (leaveoff/<robotID>).
 */
export interface LeaveOff {
  robot: Id;
  fight: Id;
  /** `ready` is on how many of 10 days it is ready as things stand. */
  ready: number;
  list: Remedy[];
}

/** Remedy is one thing to do about it. */
export interface Remedy {
  rank: number;
  text: string;
  /**
   * `then` is on how many of 10 days the robot is ready with it. `gain` is the difference
   * in points of 100, with its standard error.
   */
  then: number;
  gain: number;
  err: number;
  /** `others` are the other robots that it changes. */
  others: Changed[];
  do: Written[];
}

/** Changed is on how many of 10 days a robot is ready as things stand, and then. */
export interface Changed { robot: Id; ready: number; then: number }

/** Written is a command as it is sent. */
export interface Written { do: string; with: unknown }

/** Lane is a robot's row on the wall (lane/<robotID>). */
export interface Lane { robot: Id; bars: Bar[] }

/** Bar is one job on a lane: solid to `endAt`, broken to `badAt`. */
export interface Bar {
  job: Id;
  number: number;
  name: string;
  who: string[];
  state: JobState;
  startAt: Time;
  endAt: Time;
  badAt: Time;
  late: boolean;
}

/**
 * JobPlan is what the plan says of one job (plan/<jobID>): of every job still to be done,
 * and of those that are finished and owe something.
 */
export interface JobPlan {
  job: Id;
  /**
   * `fix` is the fix planned, an index into the job's fixes; -1 if it is left off or cannot
   * be done. `startAt`, `endAt` and `badAt` are none then.
   */
  fix: number;
  startAt?: Time;
  endAt?: Time;
  badAt?: Time;
  people: Id[];
  station?: string;
  flag: Flag;
  cause: Cause;
  /** `owes` lists what a finished job waits for before it closes. */
  owes: JobOwes[];
}

/** JobOwes is one thing that a finished job waits for before it closes. */
export interface JobOwes {
  says: string;
  /**
   * `sheet` is the sheet it waits for, `line` a line of it that is answered again for
   * `pack`; without a sheet `pack` is to be placed. `looks` lists who may look at the work
   * again. None of them is set where no answer would do now.
   */
  sheet?: Id;
  line?: string;
  pack?: Id;
  looks?: Id[];
}

/** Todo is a person's next move: one thing (todo/<personID>). */
export interface Todo {
  person: Id;
  act: Act;
  robot?: Id;
  job?: Id;
  /** `fix` is the fix that a start begins by, as in [board.JobStart]. */
  fix?: number;
  sheet?: Id;
  line?: string;
  pack?: Id;
  damage?: Id;
  /**
   * `work` names what the person can say that they have, `taken` that they did: nobody else
   * is sent to it.
   */
  work?: string;
  taken?: boolean;
  title: string;
  where?: string;
  why?: string;
  /** `until` is the latest finish that still makes the call. */
  until?: Time;
  /** `likelySec` and `badSec` are the two times of the fix, from its start. */
  likelySec?: number;
  badSec?: number;
  /** `told` says who held or finished a job that the person was at work on. */
  told?: string;
}

/** Act is the one thing a person does next. */
export type Act =
  | "tag" | "hands" | "start" | "resume" | "join" | "finish" | "sheet" | "first-in" | "close-up" | "tag-off"
  | "notice" | "recheck" | "decide" | "fetch" | "read" | "move" | "charge" | "attend" | "off" | "carry"
  | "fight" | "wait" | "none";

/** Strip is where a robot is between cart and call (strip/<robotID>). */
export interface Strip {
  robot: Id;
  phase: Phase;
  sheet?: Id;
  /** `line` is the open line, counted from 1, of `lines`. */
  line?: number;
  lines?: number;
  ask?: string;
  /** `who` answered last on the sheet, or else leads the robot. */
  who?: string;
  /** `said` is the state with who declared it and when. */
  said: string;
  /**
   * `rechecks` are the lines about gas and capacitors that are to be answered again while
   * people are at work, the first due first.
   */
  rechecks?: Recheck[];
  /**
   * `rests` are the open lines that wait for something to come to rest: no sooner than At
   * are they answered.
   */
  rests?: Rest[];
  /**
   * `mayOwe` says that the failsafe may be left to the officials; `unproven`, that no test
   * or fight has shown it since it was touched.
   */
  mayOwe?: boolean;
  unproven?: boolean;
  /** `damage` is what stands on the robot: the captain, and whoever signs, see it. */
  damage: DamageNow[];
}

/** Phase is a stretch of the strip. */
export type Phase =
  | "make safe" | "first in" | "inspect" | "work" | "open again" | "close up" | "test" | "weigh and sign"
  | "ready" | "arena";

/** Recheck is a line of a sheet that has to be answered again by `due`. */
export interface Recheck { sheet: Id; line: string; ask: string; due: Time }

/**
 * Rest is a line of a sheet that says that something has come to rest, which takes until
 * `at` by itself; `sec` is how long that is from when the board heard of the power off.
 */
export interface Rest { sheet: Id; line: string; at: Time; sec: number }

/**
 * DamageNow is a damage that stands on a robot, in words, with what it asks of people
 * before the robot is signed; "" is nothing.
 */
export interface DamageNow { damage: Id; grade: Grade; says: string; asks?: Asks }

/** Asks is what a damage still asks of people. */
export type Asks = "job" | "mend" | "look" | "accept";

/** PackView is a pack in one word (packview/<packID>). */
export interface PackView {
  pack: Id;
  word: string;
  for?: Id;
  /**
   * It is charged at `readyAt`, one time in ten before `earlyAt` and one after `badAt`, if
   * it goes on a channel as soon as it is cool; none where nobody can say. A forecast: only
   * a reading makes it charged.
   */
  earlyAt?: Time;
  readyAt?: Time;
  badAt?: Time;
  /** It is cool enough to charge at `coolAt`, nine times in ten by `coolBadAt`. */
  coolAt?: Time;
  coolBadAt?: Time;
  /** `takesSec` is how long it is on the quickest channel that takes it, from now. */
  takesSec?: number;
  takesBadSec?: number;
  /** `readAt` is the reading that this rests on; `again` says why another is due. */
  readAt?: Time;
  again?: string;
  caution?: string;
}

/**
 * PackHealth is what the readings of a pack say of its age (packhealth/<packID>): points
 * with what each may be off by. It foretells no date.
 */
export interface PackHealth {
  pack: Id;
  wear?: Wear;
  /** `capacity` is in Ah by the charges that tell it, `ratedAh` is the label's. */
  ratedAh: number;
  capacity: HealthPoint[];
  /** `ohms` are one cell's, in mΩ at 25 °C, by the team's own instrument. */
  ohms: HealthPoint[];
  spread: HealthPoint[];
  /** `share` is what went back of the rated Ah after each fight, 0 to 1. */
  share: HealthPoint[];
  /** `chargeOhm` and `coolMin` are learned beside what was believed before. */
  chargeOhm: LearnedFigure;
  coolMin: LearnedFigure;
}

/**
 * Wear grades a pack by capacity now over rated and resistance now over when new, both at
 * 25 °C.
 */
export type Wear = "sound" | "worn" | "end-of-life";

/** HealthPoint is a figure of one reading and what it may be off by, either way. */
export interface HealthPoint { at: Time; value: number; plusMinus?: number }

/**
 * LearnedFigure is a figure from N logged cases beside the one that held before; `value` is
 * 0 while N is.
 */
export interface LearnedFigure { n: number; value?: number; before?: number }

/**
 * FightEnergy is what a robot takes out of its pack in a fight, in watt hours
 * (fightenergy/<robotID>), beside what is guessed for its weight.
 */
export interface FightEnergy {
  robot: Id;
  n: number;
  wh?: number;
  lowWh?: number;
  highWh?: number;
  /** `guessLowWh` to `guessHighWh`: common practice, no source. */
  guessLowWh: number;
  guessHighWh: number;
}

/**
 * ChannelView is a charger's channel on the captain's time line (channelview/<channelID>):
 * the charge that is on it and those planned for it.
 */
export interface ChannelView { channel: Id; bars: ChargeBar[] }

/** ChargeBar is one charge: solid to `endAt`, broken to `badAt`. */
export interface ChargeBar {
  pack: Id;
  for?: Id;
  running: boolean;
  startAt: Time;
  endAt: Time;
  badAt: Time;
  amps: number;
  /** `va` is what it draws at most. */
  va: number;
  /** `neededAt` is when its robot must have it; `late` says that `badAt` is past that. */
  neededAt?: Time;
  late: boolean;
}

/**
 * CircuitView is a mains circuit's load line (circuitview/<circuitID>) beside what may be
 * drawn by the figures that someone entered.
 */
export interface CircuitView {
  circuit: Id;
  budgetVA: number;
  /** `load` holds the draw of the charges, from each moment to the next. */
  load: LoadStep[];
  over: boolean;
  off: boolean;
}

/** LoadStep is a draw from a moment on. */
export interface LoadStep { at: Time; va: number }

/**
 * FightPacks is what packs a robot has for one of its fights to come
 * (fightpacks/<fightID>): for the next as it is planned, for later ones as it looks now.
 */
export interface FightPacks {
  fight: Id;
  robot: Id;
  /** `if` says that the fight exists only if another ends so. */
  if?: Result;
  /** `callAt` is the likely call, `by` when the packs must be in. */
  callAt: Time;
  by: Time;
  packs: FightPack[];
  /** `lacks` says what the set lacks that nothing is planned for. */
  lacks?: string;
  /** `late`: in the bad case one of them is ready too late. */
  late: boolean;
}

/** FightPack is a pack of a set. */
export interface FightPack {
  pack: Id;
  /**
   * `readyAt` is when it is charged by the plan, `badAt` in the bad case; none where it is
   * ready. A forecast: only a reading makes it charged.
   */
  readyAt?: Time;
  badAt?: Time;
  /** `after` is the fight that it comes back from first. */
  after?: Id;
}

/** Alarm is something abnormal that needs one person's act (alarm/<slug>). */
export interface Alarm {
  class: AlarmClass;
  robot?: Id;
  what: string;
  /** `act` begins with the name of who does it; in an emergency it is the officials' card. */
  act: string;
  /** `since` is 0 where the board does not know since when. */
  since?: Time;
  /** `sheet` and `line` are where the act is an answer. */
  sheet?: Id;
  line?: string;
  /** `count` is how many alarms of a robot this one stands for in a flood. */
  count?: number;
  /** `takenBy` has seen to it since `takenAt`: it has stopped sounding. */
  takenBy?: Id;
  takenAt?: Time;
  /** `shelvedBy` put it aside until `shelvedUntil`; never one of class A. */
  shelvedBy?: Id;
  shelvedUntil?: Time;
  /** `stale`: it has stood for longer than one fight, or an hour. */
  stale?: boolean;
}

/** AlarmClass says how much an alarm matters. */
export type AlarmClass = "A" | "B" | "C";

/**
 * Relaxed lists the settings that ask for less than the board would by itself
 * (relaxed/event; none when there are none).
 */
export interface Relaxed { list: string[] }

/**
 * Owed lists what waits for someone's word before a robot is signed, and what an earlier
 * program let be: leads who answer for nothing, charges that nobody has said they stay
 * with, packs for any robot. The captain puts it right (owed/event; none when there is
 * none).
 */
export interface Owed { list: Owing[] }

/** Owing is one such thing, and who does what about it: a damage, a pack, or a robot. */
export interface Owing { what: string; act: string; damage?: Id; pack?: Id; robot?: Id }

/**
 * FirstSteps is what a new board still lacks before its day can begin (first/event; none
 * once every step is done).
 */
export interface FirstSteps {
  steps: FirstStep[];
  /** `next` is the first that is not done. */
  next: Lack;
  /** `unsaid` are the robots of which nobody has said how they can hurt. */
  unsaid?: Id[];
  /** `lacks` are the settings without which no robot has power and no pack is charged. */
  lacks?: string[];
  /** `noShelf` says that there is no place yet where packs may be charged. */
  noShelf?: boolean;
  /**
   * `arena` is that of our next fight, and `numbers` are the fights up to ours, of which
   * one may be on now.
   */
  arena: string;
  numbers: number[];
}

/** FirstStep is one thing to enter. */
export interface FirstStep { lack: Lack; done?: boolean }

/** Lack names what a board lacks. */
export type Lack = "people" | "robots" | "fights" | "on-now" | "safety";

/**
 * Works is what works now of a robot, for its driver (works/<robotID>); not there for a
 * robot without a part map and without damage.
 */
export interface Works {
  robot: Id;
  /** `setup` is the name of what is on; "" where nobody said. */
  setup?: string;
  functions: FunctionNow[];
  /** `other` lists the damages that the part map has no place for. */
  other: string[];
  /** `lookNext` lists what a hit ran into next and nobody has reported on yet. */
  lookNext: NextLook[];
}

/** FunctionNow is how far one function works. */
export interface FunctionNow {
  name: string;
  word: Working;
  /**
   * `pct` is how much of it works; `unsaid`: it may be less, as some of the damage has no
   * figure.
   */
  pct: number;
  unsaid?: boolean;
  why: string[];
}

/** Working says how far a function of a robot works. */
export type Working = "full" | "degraded" | "gone" | "not-required";

/** NextLook is a part to look at, and the damaged one that leads there. */
export interface NextLook { part: Id; name: string; from: string }

/**
 * Cost is what the hits of a robot's fights of today have cost so far, in the event's
 * currency (cost/<robotID>); not there for a robot that took none.
 */
export interface Cost { robot: Id; hits: number; listCents: number; paidCents: number }

/**
 * Setups is what a robot weighs in each of its setups (setups/<robotID>); not there for a
 * robot that has none and was never weighed.
 */
export interface Setups {
  robot: Id;
  /** `limit` is the class limit in the rule's own unit. */
  limit: string;
  /** `on` is the setup that was named; `modules` are those that are on. */
  on?: Id;
  modules: Id[];
  now: Weight;
  weighed?: WeightRead;
  list: SetupNow[];
  /** `heaviest` is the declared setup that rules the weigh-in. */
  heaviest?: Id;
  /** `differPct` is how much the declared setups differ at most, in % of the limit. */
  differPct?: number;
  /** `warns` say what the officials may refuse; nothing is barred by it. */
  warns?: string[];
}

/** Weight is a mass and how it stands to the limit. */
export interface Weight {
  grams: number;
  word: MassWord;
  text: string;
  basis: MassBasis;
  /** `overPct` is how far it is over, in % of the limit; 0 where it is not. */
  overPct?: number;
}

/** MassWord says how a mass stands to the class limit. */
export type MassWord = "under" | "over" | "close" | "unknown";

/** MassBasis says what a mass is computed from. */
export type MassBasis = "scale" | "parts" | "none";

/** WeightRead is the last weighing. */
export interface WeightRead {
  grams: number;
  scale?: string;
  stepGrams?: number;
  by?: string;
  at: Time;
  /** `stale` says why it no longer holds; "" where it does. */
  stale?: string;
}

/** SetupNow is one setup as it stands. */
export interface SetupNow {
  setup: Id;
  name: string;
  declared: boolean;
  weight: Weight;
  /**
   * `likelySec` and `badSec` are the time to change to it from what is on, `untimed` how
   * many of the changes have no time.
   */
  likelySec: number;
  badSec: number;
  untimed?: number;
  modules: Wearing[];
  against: string[];
  notes?: string;
  notNeeded: string[];
  record: Fared[];
}

/** Wearing is a module with what is left of it. */
export interface Wearing {
  module: Id;
  slot: string;
  name: string;
  grams: number;
  on: boolean;
  /**
   * `left` is how many fights it is still good for, below 0 where it is past them; none
   * where nobody said.
   */
  left?: number;
}

/** Fared is how a setup did against one kind of opponent, "" for no kind said. */
export interface Fared { kind: string; n: number; won: number; lost: number; drawn: number }

/**
 * Access is how a robot's parts are reached (access/<robotID>); not there for a robot
 * without a part map.
 */
export interface Access {
  robot: Id;
  /**
   * `work` is the one way to all that the unfinished jobs are about: what they share comes
   * off once.
   */
  work: WayIn;
  /** `parts` says the way to each part, by assembly and name. */
  parts: PartWay[];
  /** `alone` lists the single points of failure. */
  alone: Alone[];
}

/** WayIn is what comes off, in its order, and what that takes. */
export interface WayIn {
  off: string[];
  joints: number;
  fasteners: number;
  tools: string[];
  /**
   * `likelySec` and `badSec` are the time to take it off and put it back; `untimed` counts
   * parts and joints that have no time.
   */
  likelySec: number;
  badSec: number;
  untimed?: number;
  /** `rough`: the search was cut short, and a cheaper way may exist. */
  rough?: boolean;
}

/** PartWay is the way to one part. */
export interface PartWay { part: Id; way: WayIn }

/** Alone is a part without which a whole function stops. */
export interface Alone { part: Id; function: string }

/**
 * Bends is how far from straight a robot's parts were last measured (bends/<robotID>; not
 * there where none was).
 */
export interface Bends { robot: Id; list: BendNow[] }

/** BendNow is the last measurement of a part, and what stands beside it. */
export interface BendNow {
  part: Id;
  /** `said` is how many measurements there are. */
  said: number;
  says: string;
  /** `grade` is the grade that it proposes, "" for none. */
  grade?: Grade;
}

/**
 * Learned is what the team's own record says of a kind of work, beside what was said of it
 * (learned/<kind>). It counts only where the captain has switched it on.
 */
export interface Learned {
  kind: string;
  name: string;
  /** N is the finished jobs it rests on, `open` those broken off. */
  n: number;
  open: number;
  /** The two times as said, of the kind's first fix, and as learned. */
  likelySec: number;
  badSec: number;
  learnedLikelySec: number;
  learnedBadSec: number;
  on: boolean;
}

/**
 * Scarce is a spare that may not last for the fights that are still possible: now, or a
 * later fight? (scarce/<stockID>)
 */
export interface Scarce {
  stock: Id;
  name: string;
  /** `left` is in the box, less what running jobs hold. */
  left: number;
  /** `jobs` may take it now. */
  jobs: ScarceJob[];
  /** `fights` may still come for the robots that use it, the first call first. */
  fights: Id[];
  /** `used` is how many went into finished jobs of these robots, in `fought` fights. */
  used: number;
  fought: number;
  text: string;
}

/**
 * ScarceJob is a job that may take a scarce spare: whether the plan has it take one, and
 * how much longer the quickest fix without it takes, -1 where there is none.
 */
export interface ScarceJob { job: Id; robot: Id; takes: boolean; longerSec: number }

/**
 * Absent lists when a person is at fights of ours by the clock, or on a robot's sheets
 * (absent/<personID>; there only while there are such times).
 */
export interface Absent { person: Id; at: Absence[] }

/** Absence is one stretch of it. */
export interface Absence {
  from: Time;
  to: Time;
  /** `what` is where they are, in words. */
  what: string;
}

/** Calibration says how good the chances were (calibration/event; none before ten calls). */
export interface Calibration { n: number; said: SaidAndMet[]; brier: number }

/** SaidAndMet is how many calls of those given a chance were met. */
export interface SaidAndMet { of10: number; n: number; met: number }

/**
 * Tests says how many failsafe tests failed, where they are done in the pit (tests/event;
 * none before the first). Each has the robot mended, closed up and tested again.
 */
export interface Tests {
  n: number;
  failed: number;
  /** `saidOf100` was believed before, `of100` is what counts now. */
  saidOf100: number;
  of100: number;
}

/** Copies is how the board's copies stand (copies/event; none where none are kept). */
export interface Copies { folders: FolderCopies[]; laptops: Laptop[] }

/** FolderCopies is a folder that takes copies. */
export interface FolderCopies {
  path: string;
  /** `at` is when its newest copy was made, `current` that nothing has changed since. */
  at?: Time;
  current: boolean;
  /** `failing` says why no copy is written there, since `since`. */
  failing?: string;
  since?: Time;
  /** `ownDisk`: it is not on the disk that the board is on. */
  ownDisk: boolean;
}

/** Laptop is another that keeps copies. */
export interface Laptop {
  address: string;
  /**
   * `at` is when the newest copy that it has was made, `current` that nothing has changed
   * since.
   */
  at?: Time;
  current: boolean;
  /** `failing` says why it gets no copy, since `since`. */
  failing?: string;
  since?: Time;
}

/** Debrief is the debrief of one board. */
export interface Debrief {
  event: string;
  /** `currency` is what money is in, or "". */
  currency: string;
  from?: Time;
  to?: Time;
  lines: number;
  /** `fought` is how many fights were fought. */
  fought: number;
  all: DebriefSection;
  /** `robots` are those that were worked on, hit or fought. */
  robots: DebriefSection[];
  fights: DebriefBill[];
  hits: DebriefBill[];
  compared: DebriefCompared[];
  /**
   * `calls` are the chances that were given, against what came; `chances` say how good they
   * were, from CallsLeast calls on.
   */
  calls: DebriefCalled[];
  chances?: DebriefChances;
  bring: DebriefBring;
  after: DebriefAfter;
  /** `reads` say how to read the figures. */
  reads: string[];
}

/** DebriefSection is the account of one robot, or of all of them together. */
export interface DebriefSection {
  robot?: Id;
  name: string;
  /** `headline` says what it comes to. */
  headline: string;
  bill: DebriefBill;
  figures: DebriefFigure[];
  /**
   * The rankings of what was hit: by minutes of work and waiting, by list price of what it
   * took, by how many fights it was damaged in; and joints by the last. Of a name that
   * several robots have, each says whose it is.
   */
  byMinutes: DebriefShare[];
  byMoney: DebriefShare[];
  byRepeat: DebriefShare[];
  byJoint?: DebriefShare[];
  /** `creeps` are the parts that were measured for straightness more than once. */
  creeps?: DebriefCreep[];
  jobs: DebriefTimed[];
  /** `called` says how many calls were met, by the chance that was given. */
  called: string;
}

/**
 * DebriefFigure is a measure with what it rests on. It has no value where there is nothing
 * to measure: never 0 in its place.
 */
export interface DebriefFigure {
  name: string;
  value?: number;
  unit: string;
  n: number;
  /** `of` says what n counts and where the figure comes from, `trap` how it misleads. */
  of: string;
  trap?: string;
}

/**
 * DebriefShare is one item of a ranking: its amount, and the share of the whole that it and
 * all above it make, 0 to 1.
 */
export interface DebriefShare { name: string; amount: number; cumulative: number; n: number }

/** DebriefCreep is a part that was measured for straightness more than once. */
export interface DebriefCreep {
  name: string;
  /** `says` is each measurement with the fight before it. */
  says: string;
  /**
   * `mmPer100` is how much more it is bent by the last than by the first, in mm of gap for
   * each 100 mm of length; less than 0 where it was put straight, or swapped.
   */
  mmPer100: number;
  /** `past` tells that the last is past the part's limit. */
  past?: boolean;
}

/** DebriefTimed is one job against its estimate. */
export interface DebriefTimed {
  job: Id;
  number: number;
  name: string;
  likelySec: number;
  badSec: number;
  actualSec: number;
  /** `open` tells that it was broken off or still runs: it would have taken longer. */
  open?: boolean;
}

/** DebriefBill is what a hit, a fight, a robot's event or a whole event cost. */
export interface DebriefBill extends DebriefHit, DebriefCost {
  robot?: Id;
  name: string;
  at?: Time;
  listCents: number;
  paidCents: number;
  /** `listShare` and `paidShare` are both over the alternative's list price. */
  listShare?: number;
  paidShare?: number;
  leadDays: number;
  /**
   * `sec` is time on the clock by what it was spent on, `handSec` time times hands, waiting
   * apart.
   */
  sec?: Partial<Record<DebriefSpend, number>>;
  workSec: number;
  waitSec: number;
  handSec: number;
  used?: DebriefUsed[];
  /** `leftOff` is the work that was left off and still is, with why. */
  leftOff?: string[];
  damages: number;
  /**
   * `foundLater` is how many of the damages were found after the robot had fought again, or
   * half a day later.
   */
  foundLater: number;
  /**
   * `quiet` tells that there is nothing on it worth a row in print: no money, no damage,
   * nothing left off, and no more than quietSec of work and waiting.
   */
  quiet?: boolean;
}

/**
 * DebriefHit is one hit of one of our fights. `hit` 0 is a fight in which nobody said which
 * hit; without `fight` the hit is not known.
 */
export interface DebriefHit { fight?: Id; hit?: number }

/** DebriefCost is what something cost, in cents, and the team's own time in making it. */
export interface DebriefCost {
  materialListCents: number;
  materialPaidCents: number;
  machiningListCents: number;
  machiningPaidCents: number;
  ownSec: number;
}

/** DebriefSpend sorts time in the terms of IEC 60050-192. */
export type DebriefSpend =
  | "making-safe" | "wait-part" | "wait-person" | "wait-station" | "wait-other" | "finding" | "fixing"
  | "checking";

/** DebriefUsed is pieces of one kind that a bill has. */
export interface DebriefUsed { name: string; pieces: number; listCents: number; paidCents: number }

/** DebriefCompared is a robot's built construction against another. */
export interface DebriefCompared extends DebriefComparison { robot: Id; name: string }

/** DebriefComparison answers a Question. */
export interface DebriefComparison {
  /** `fights`, `damaging` and `members` are what the answer rests on. */
  fights: number;
  damaging: number;
  members: number;
  replays: number;
  moves: number;
  built: DebriefOutcome;
  other: DebriefOutcome;
  /** Shares of the replays of this day, 0 to 1. */
  otherSlower: number;
  otherMisses: number;
  sameMisses: number;
  otherDearer: number;
  /** `otherCheaper` is not the rest: both may cost the same. */
  otherCheaper: number;
  /** `more` is other less built a fight, over days drawn from these fights. */
  more: DebriefBootstrap;
  turn: DebriefTurn;
  /**
   * `outside` lists members that were hit and belong to a group of neither or only one of
   * the two: they are left out.
   */
  outside?: string[];
  /** `verdict` is the answer in a sentence, or says why there is none. */
  verdict: string;
  decided: boolean;
  assumes: string;
  gap: string;
  condition: string;
}

/** DebriefOutcome is how one construction stands the recorded fights. */
export interface DebriefOutcome {
  name: string;
  guessed: boolean;
  massGrams: number;
  costCents: number;
  joints: number;
  /** `sec` and `moneyCents` are for all the fights together: seconds, cents. */
  sec: DebriefRange;
  moneyCents: DebriefRange;
  missed: number;
}

/**
 * DebriefRange is a figure with its spread: one in ten lies below `p10`, half below `p50`,
 * nine in ten below `p90`.
 */
export interface DebriefRange { p10: number; p50: number; p90: number; mean: number }

/**
 * DebriefBootstrap is other less built a fight, with the spread that comes from which
 * fights happened to be fought.
 */
export interface DebriefBootstrap { sec: DebriefRange; moneyCents: DebriefRange; slower: number; dearer: number }

/**
 * DebriefTurn says where the answer turns, everything else as it is. A figure is absent
 * where nothing turns it.
 */
export interface DebriefTurn {
  /**
   * `priceCents` is what the other construction's costliest step, named `step`, would have
   * to cost for equal money, in cents.
   */
  step?: string;
  priceCents?: number;
  nowCents: number;
  /**
   * `lossPerFight` is how many members a fight the other construction may lose for equal
   * expected minutes, `moneyLossPerFight` for equal money; `lostPerFight` is what it lost
   * in the replay.
   */
  lostPerFight: number;
  lossPerFight?: number;
  moneyLossPerFight?: number;
}

/**
 * DebriefCalled is a call that has come, with the chance that was shown before it: once for
 * a fight, at one lead.
 */
export interface DebriefCalled {
  robot: Id;
  fight: Id;
  name: string;
  at: Time;
  /**
   * `of10` is on how many of 10 such days the call would be made, as it was shown; `met`
   * whether it was.
   */
  of10: number;
  met: boolean;
}

/** DebriefChances say how good the chances were. */
export interface DebriefChances {
  n: number;
  /**
   * `brier` is the mean squared error of a chance, 0 best; `always` is what one chance, the
   * share of all calls that were met, would have got.
   */
  brier: number;
  always: number;
}

/** DebriefBring is what to bring to the next event. */
export interface DebriefBring {
  fights: number;
  massGrams?: number;
  moneyCents?: number;
  rows: DebriefBringRow[];
  exact: DebriefTotal;
  greedy: DebriefTotal;
  have: DebriefTotal;
  noneChance: number;
  lastKilogram?: number;
  order?: DebriefBringStep[];
}

/** DebriefBringRow is one spare: what it rests on and how many to bring. */
export interface DebriefBringRow {
  stock: Id;
  name: string;
  /**
   * `taken` is how many pieces the record asked for, in `hits` hits over N fights; `guess`
   * is what someone stated, a fight.
   */
  taken: number;
  hits: number;
  n: number;
  guess?: number;
  /**
   * `perFight` is the demand that is reckoned with, `miss` the chance that a call is missed
   * for one that is not there.
   */
  perFight: number;
  miss: number;
  have: number;
  exact: number;
  greedy: number;
  massGrams: number;
  listCents: number;
  /**
   * `last` compares, where one is left, what it is worth now and kept for a final worth
   * twice a fight, if the old one is still worth half.
   */
  last?: DebriefLast;
}

/** DebriefLast is what the last piece is worth, in fights. */
export interface DebriefLast { now: number; keep: number }

/** DebriefTotal is a whole list. */
export interface DebriefTotal { massGrams: number; listCents: number; chance: number }

/** DebriefBringStep is one step of the greedy list and the chance after it. */
export interface DebriefBringStep { name: string; chance: number }

/** DebriefAfter is what is left to do when the event is over. */
export interface DebriefAfter { shop: DebriefBuy[]; loans: DebriefLoan[]; packs: DebriefPackTo[] }

/** DebriefBuy is a spare or part to get, as many as were used up. */
export interface DebriefBuy { name: string; pieces: number; listCents: number; leadDays: number; have: number }

/** DebriefLoan is a spare that belongs to somebody else: what is left of it goes back. */
export interface DebriefLoan { name: string; from: string; left: number; taken: number }

/** DebriefPackTo is what a pack needs before it is put away. */
export interface DebriefPackTo { pack: Id; name: string; do: string }

/** Review is the look back at a board at a moment. Every list is in the order of time. */
export interface Review {
  at: Time;
  of: number;
  event: string;
  /**
   * `turnarounds` are the stretches between two fights of a robot, and `whole` the whole
   * journal.
   */
  turnarounds: ReviewTurnaround[];
  whole: ReviewCounts;
  fast: ReviewFast[];
  overrides: ReviewOverride[];
  relaxed: ReviewRelaxed[];
  alarms: ReviewAlarms;
  tags: ReviewTag[];
  late: ReviewLate[];
  uncovered: ReviewUncovered[];
  loosened: ReviewLoosened[];
  marked: ReviewMarked[];
}

/**
 * ReviewTurnaround is one robot's way from the cart, or from the first word about it, to
 * its next fight.
 */
export interface ReviewTurnaround extends ReviewCounts {
  robot: Id;
  name: string;
  from: Time;
  /** `readyAt` is when it was last signed ready in it, `to` when it fought again. */
  readyAt?: Time;
  readyBy?: string;
  to?: Time;
}

/** ReviewCounts are how many of each there were. */
export interface ReviewCounts {
  fast: number;
  overrides: number;
  tags: number;
  late: number;
  paper: number;
  uncovered: number;
  alarms: number;
}

/** ReviewFast is a sheet that was answered in less time than it takes to read. */
export interface ReviewFast {
  robot: Id;
  name: string;
  list: SheetList;
  /**
   * `lines` were answered after the first one, in `sec` seconds; to read them takes
   * `readSec` seconds at 300 words a minute.
   */
  lines: number;
  sec: number;
  readSec: number;
  by: string[];
  /** `at` is when the last of them was answered. */
  at: Time;
}

/** ReviewOverride is one tag or hands near taken off over its owner's head. */
export interface ReviewOverride {
  robot: Id;
  name: string;
  owner: string;
  by: string;
  second: string;
  /** `on` is whose device the second's PIN was set on, where that was another's. */
  on?: string;
  reason: string;
  at: Time;
  /** `taken` is when the owner acknowledged it. */
  taken?: Time;
}

/**
 * ReviewRelaxed is a setting that asked for less than the board would by itself, from when
 * to when.
 */
export interface ReviewRelaxed { text: string; from: Time; to?: Time }

/**
 * ReviewAlarms says how often alarms rose, as one who looks at the board every `stepSec`
 * seconds would have counted: one that comes and goes between two looks is not in it, and
 * one that comes back within a minute is the same.
 */
export interface ReviewAlarms {
  stepSec: number;
  people: ReviewAlarmsOf[];
  classes: ReviewClassShare[];
  /** `targets` are what EEMUA 191 asks, to compare with. */
  targets: ReviewTargets;
}

/** ReviewAlarmsOf is one person's share. */
export interface ReviewAlarmsOf {
  who: string;
  total: number;
  /**
   * `most` is the greatest number in any 10 minutes, `mostAt` when they began; `mean` is
   * per 10 minutes over the time that the journal covers.
   */
  most: number;
  mostAt: Time;
  mean: number;
}

/** ReviewClassShare is how many alarms were of a class. */
export interface ReviewClassShare {
  class: string;
  count: number;
  /** `percent` is its share, `target` what is aimed at. */
  percent: number;
  target: number;
}

/**
 * ReviewTargets of alarm rates. Source: EEMUA Publication 191, Alarm systems: a guide to
 * design, management and procurement (from memory), for one operator: about 1 alarm in 10
 * minutes is very likely acceptable, 10 in 10 minutes are a flood; about 5 % high, 15 %
 * medium, 80 % low.
 */
export interface ReviewTargets { mean: number; flood: number }

/**
 * ReviewTag is a tag that was left on: its owner was quiet for 45 minutes, or others took
 * it off, or it is still on at the end.
 */
export interface ReviewTag {
  robot: Id;
  name: string;
  person: string;
  on: Time;
  /** `off` is none while it is on. */
  off?: Time;
  /** `quietSec` is how long its owner had done nothing on the board by then. */
  quietSec: number;
  override?: boolean;
}

/**
 * ReviewLate is an answer, or a tag, hands near or work without a `list`, that the board
 * heard of after it was given: from a phone that had no network, or from paper.
 */
export interface ReviewLate {
  robot: Id;
  name: string;
  list: SheetList;
  ask: string;
  by: string;
  at: Time;
  /** `heard` is when it came. */
  heard: Time;
  paper?: boolean;
}

/** ReviewUncovered is a job worked on, in part, while no verified lockout covered it. */
export interface ReviewUncovered {
  robot: Id;
  name: string;
  number: number;
  job: string;
  /** `sec` is how long, in seconds; `at` when that work began. */
  sec: number;
  at: Time;
  /** `by` is the lead who looked at the work again, `when` when; none as long as nobody has. */
  by?: string;
  when?: Time;
}

/**
 * ReviewLoosened is a job that was made to ask less, no must any more, less lockout; or a
 * damage that was made less of. Without a number it is a robot that has an energy less, a
 * place that became another kind, a kind of job that asks for no lockout, a setting that
 * was made weaker, or someone who is no minor any more or a signer now.
 */
export interface ReviewLoosened {
  robot: Id;
  name: string;
  number: number;
  job: string;
  what: string;
  reason: string;
  by: string;
  at: Time;
  /** `until` is when a setting was put back. */
  until?: Time;
}

/**
 * ReviewMarked is an answer that is marked on the record: a weight that the board asked
 * about and that was said again, a robot closed up with nobody else there to be told, a
 * signature on another's device. Without a `list` it is a weight from beside the sheets;
 * without a `robot`, a person's PIN that was forgotten, or set on the captain's device, or
 * someone who was entered as one with authority or is no guest any more.
 */
export interface ReviewMarked {
  robot?: Id;
  name: string;
  list: SheetList;
  ask: string;
  what: string;
  by: string;
  /** `on` is whose device it was signed on, where that was another's. */
  on?: string;
  at: Time;
}

/**
 * TeamLoad fills an empty board with a team: event settings, places, people, robots,
 * stations, spares, circuits, channels, packs, job templates, part maps, setups and the
 * running order, all or nothing. Whoever has joined stays, and a row with their name is
 * theirs. The ids of what it loads are those NewID makes from the command's id, the kind
 * and the name.
 */
export interface TeamLoad {
  event: EventFields;
  places?: Place[];
  people?: Person[];
  robots?: Robot[];
  stations?: Station[];
  stocks?: Stock[];
  circuits?: Circuit[];
  channels?: Channel[];
  packs?: Pack[];
  templates?: Template[];
  parts?: Part[];
  joints?: Joint[];
  modules?: Module[];
  setups?: Setup[];
  constructions?: Construction[];
  fights?: Fight[];
}

/**
 * JoinAsk is what a device says to join: first the code alone, then with a name and that
 * name's `pin`.
 */
export interface JoinAsk { code: string; name?: string; pin?: string }

/** RosterAnswer follows a code without a name: who may join with it. */
export interface RosterAnswer { role: Role; people: RosterEntry[] }

export interface RosterEntry { id: Id; name: string; claimed: boolean }

/** JoinedAnswer is a session: its token for scripts, and who it is. */
export interface JoinedAnswer extends WhoAnswer { token: string }

/** WhoAnswer says who the device is. */
export interface WhoAnswer { role: Role; person: Id; name: string }

/** DoneAnswer says that a command is done and on disk. */
export interface DoneAnswer { id: Id; rev: number }

/** RefusedAnswer is the body of every answer that is not a success. */
export interface RefusedAnswer {
  refusal: Refusal;
  /** `entity` is the noun as it stands, where the code is "stale". */
  entity?: unknown;
}

/**
 * JournalAnswer is a page of the journal. Ask again after the last line's revision, until
 * there is none.
 */
export interface JournalAnswer {
  /** board.JournalLine each */
  lines: unknown[];
}

/** CommandsAnswer describes what may be asked and how it may be refused. */
export interface CommandsAnswer { commands: Described[]; refusals: Meaning[] }

/** Described is one command as /api/commands lists it. */
export interface Described {
  do: string;
  what: string;
  roles: Role[];
  undo: boolean;
  seen: boolean;
  fields: DescribedField[];
}

/**
 * DescribedField is one field of a command: its wire name, its JSON type, and whether it
 * may be left out.
 */
export interface DescribedField { name: string; type: string; optional: boolean }

/** Meaning is one code of refusal as /api/commands lists it. */
export interface Meaning { code: Code; status: number; what: string }

/** ListsAnswer gives the lines of the sheets in the board's own words. */
export interface ListsAnswer { lists: Listed[] }

/** Listed is a list of lines in the board's own words, for those who reword it. */
export interface Listed { list: SheetList; lines: ListedLine[] }

/**
 * ListedLine is one line of a list, or a family of them: one for each link, pack or energy,
 * with {name} for what it is about.
 */
export interface ListedLine {
  id: string;
  part: string;
  kind?: LineKind;
  /**
   * `kept` says that the line carries a rule and cannot be taken out; `many` that its
   * question needs {name}.
   */
  kept?: boolean;
  many?: boolean;
  ask?: string;
  touch?: string;
  say?: string;
  not?: string;
}

/** SessionsAnswer lists the devices that have joined. */
export interface SessionsAnswer { sessions: SessionEntry[] }

export interface SessionEntry {
  id: string;
  /** now, on the roster */
  role: Role;
  /** of the code it joined with */
  code: Role;
  person?: Id;
  name?: string;
  since: Time;
  /** `seen` is when it last asked or connected, `sockets` how many it has open. */
  seen: Time;
  sockets: number;
  /** `mine` is the session that asks. */
  mine: boolean;
}

/** EndedAnswer says how many sessions were ended. */
export interface EndedAnswer { ended: number }

/** DoorAnswer is how the door is. */
export interface DoorAnswer {
  locked: boolean;
  /** `liftedUntil` is until when new names can join all the same. */
  liftedUntil?: Time;
}

/** CodesAnswer lists the join codes. */
export interface CodesAnswer { codes: CodeEntry[] }

export interface CodeEntry { role: Role; code: string }

/** HealthAnswer is how the board is, for its captain: by name. */
export interface HealthAnswer extends Health {
  line: string;
  /**
   * `bad`: somebody should do something. `recovered` says what was amiss with the board's
   * file when it was opened.
   */
  bad: boolean;
  recovered: string[];
}

/** `health` is how the board is. It names nobody and no robot: anyone may ask. */
export interface Health {
  /** `health` is "ok", or in a few words why the board takes no commands. */
  health: string;
  /**
   * `start` is how the board came up, `copy` how old the newest copy is, `disk` the room
   * that is left.
   */
  start: Fact;
  copy: Fact;
  disk: Fact;
  /** `clock` is how far the laptop's clock is off the board's time, if it is. */
  clock?: string;
}

/** Fact is one thing that whoever looks after the board should know. */
export interface Fact {
  says: string;
  /** `bad`: somebody should do something about it. */
  bad: boolean;
}

/** FileAnswer says where the board's file is. */
export interface FileAnswer {
  path: string;
  /** `moved` says that it is not there any more, `rescued` where a copy was written then. */
  moved: boolean;
  rescued?: string;
}

/**
 * ClockAnswer says how the board's time stands to the laptop's clock, and what the command
 * time.set would move that brings it to a time.
 */
export interface ClockAnswer {
  now: Time;
  laptop: Time;
  /** `bySec` is what time.set takes, 0 where the board has that time. */
  bySec: number;
  moves: string[];
}

/** CopiesCodeAnswer is what another laptop needs to keep copies: "" while none may. */
export interface CopiesCodeAnswer { code: string }

/** CopiesCodeAsk wants another code for laptops, or with `off` none. */
export interface CopiesCodeAsk { off?: boolean }

/** PhotoAnswer names a photo that is on disk. */
export interface PhotoAnswer { photo: Id }

/**
 * TeamAnswer says what became of a team folder: what was loaded of it, or all that is wrong
 * with it, and then nothing was.
 */
export interface TeamAnswer {
  loaded: boolean;
  people: number;
  robots: number;
  packs: number;
  jobs: number;
  fights: number;
  faults: RowError[];
  /** `skipped` are the files that were passed over. */
  skipped: string[];
}

/** RowError is one thing that is wrong with a team folder. */
export interface RowError {
  /** `file` is the file's name, "" for the folder as a whole. */
  file: string;
  /** `line` counts from 1; 0 stands for the whole file. */
  line?: number;
  /**
   * `column` is the column's name and `number` its place, from 1; "" and 0 stand for the
   * whole row.
   */
  column?: string;
  number?: number;
  /** `value` is what stands there. */
  value?: string;
  /** `want` says what would be right. */
  want: string;
  /** `more` are the lines on which the same is wrong in the same column. */
  more?: number[];
  /** `ask` is the setting of the event that would settle it, "" where none would. */
  ask?: string;
}

/** CheckAnswer is what an examination of the board's file found. */
export interface CheckAnswer {
  ok: boolean;
  rev: number;
  bytes: number;
  nouns: number;
  /** of the journal */
  lines: number;
  /** `damage`: the file's structure does not hold. `faults`: journal and nouns disagree. */
  damage: string[];
  faults: string[];
}

/** Every noun by the kind in its key. */
export interface Nouns {
  event: Event;
  person: Person;
  robot: Robot;
  power: Power;
  place: Place;
  station: Station;
  stock: Stock;
  pack: Pack;
  packlog: PackLog;
  channel: Channel;
  circuit: Circuit;
  template: Template;
  fight: Fight;
  sighting: Sighting;
  damage: Damage;
  job: Job;
  sheet: Sheet;
  tag: Tag;
  hands: Hands;
  note: Note;
  notice: Notice;
  emergency: Emergency;
  mark: Mark;
  wording: Wording;
  follow: Follow;
  learn: Learn;
  foretold: Foretold;
  part: Part;
  joint: Joint;
  module: Module;
  setup: Setup;
  construction: Construction;
  fit: Fit;
  clock: Clock;
  call: Call;
  chance: Chance;
  leaveoff: LeaveOff;
  lane: Lane;
  plan: JobPlan;
  todo: Todo;
  strip: Strip;
  packview: PackView;
  packhealth: PackHealth;
  fightenergy: FightEnergy;
  channelview: ChannelView;
  circuitview: CircuitView;
  fightpacks: FightPacks;
  alarm: Alarm;
  relaxed: Relaxed;
  owed: Owed;
  first: FirstSteps;
  works: Works;
  cost: Cost;
  setups: Setups;
  access: Access;
  bends: Bends;
  learned: Learned;
  scarce: Scarce;
  absent: Absent;
  calibration: Calibration;
  tests: Tests;
  copies: Copies;
}
export type Kind = keyof Nouns;
export type Noun = Nouns[Kind];

/** The fields of `with`, by the name in `do`. */
export interface Commands {
  "event.set": EventSet;
  "wording.set": WordingSet;
  "person.add": PersonAdd;
  "person.change": PersonChange;
  "person.retire": PersonRetire;
  "person.brief": PersonBrief;
  "robot.add": RobotAdd;
  "robot.change": RobotChange;
  "robot.energy-off": RobotEnergyOff;
  "robot.withdraw": RobotWithdraw;
  "robot.back-in": RobotBackIn;
  "robot.retire": RobotRetire;
  "place.add": PlaceAdd;
  "place.change": PlaceChange;
  "place.turn": PlaceTurn;
  "place.retire": PlaceRetire;
  "station.add": StationAdd;
  "station.change": StationChange;
  "station.retire": StationRetire;
  "stock.add": StockAdd;
  "stock.change": StockChange;
  "stock.retire": StockRetire;
  "stock.use": StockUse;
  "stock.count": StockCount;
  "circuit.add": CircuitAdd;
  "circuit.change": CircuitChange;
  "circuit.retire": CircuitRetire;
  "circuit.off": CircuitOff;
  "circuit.on": CircuitOn;
  "channel.add": ChannelAdd;
  "channel.change": ChannelChange;
  "channel.retire": ChannelRetire;
  "template.add": TemplateAdd;
  "template.change": TemplateChange;
  "template.retire": TemplateRetire;
  "part.add": PartAdd;
  "part.change": PartChange;
  "part.retire": PartRetire;
  "part.bend": PartBend;
  "joint.add": JointAdd;
  "joint.change": JointChange;
  "joint.retire": JointRetire;
  "module.add": ModuleAdd;
  "module.change": ModuleChange;
  "module.renew": ModuleRenew;
  "module.retire": ModuleRetire;
  "setup.add": SetupAdd;
  "setup.change": SetupChange;
  "setup.retire": SetupRetire;
  "construction.add": ConstructionAdd;
  "construction.change": ConstructionChange;
  "construction.retire": ConstructionRetire;
  "pack.add": PackAdd;
  "pack.change": PackChange;
  "pack.retire": PackRetire;
  "pack.move": PackMove;
  "pack.choose": PackChoose;
  "pack.set": PackSet;
  "pack.read": PackRead;
  "pack.charge": PackCharge;
  "pack.attend": PackAttend;
  "pack.off": PackOff;
  "fight.add": FightAdd;
  "fight.change": FightChange;
  "fight.move": FightMove;
  "fight.drop": FightDrop;
  "fight.now": FightNow;
  "fight.postpone": FightPostpone;
  "fight.pause": FightPause;
  "fight.not-fought": FightNotFought;
  "fight.end": FightEnd;
  "damage.report": DamageReport;
  "damage.regrade": DamageRegrade;
  "damage.accept": DamageAccept;
  "damage.off": DamageOff;
  "damage.look": DamageLook;
  "damage.move": DamageMove;
  "damage.outcome": DamageOutcome;
  "damage.hit": DamageHit;
  "damage.photo": DamagePhoto;
  "job.add": JobAdd;
  "job.change": JobChange;
  "job.fix": JobFix;
  "job.assign": JobAssign;
  "job.start": JobStart;
  "job.hold": JobHold;
  "job.resume": JobResume;
  "job.join": JobJoin;
  "job.leave": JobLeave;
  "job.finish": JobFinish;
  "job.reinspect": JobReinspect;
  "job.reopen": JobReopen;
  "job.drop": JobDrop;
  "job.defer": JobDefer;
  "tag.on": TagOn;
  "tag.off": TagOff;
  "hands.on": HandsOn;
  "hands.off": HandsOff;
  "tag.override": TagOverride;
  "hands.override": HandsOverride;
  "notice.take": NoticeTake;
  "sheet.answer": SheetAnswer;
  "robot.doubt": RobotDoubt;
  "robot.stop": RobotStop;
  "robot.go-on": RobotGoOn;
  "robot.load-in": RobotLoadIn;
  "robot.list": RobotList;
  "robot.fit": RobotFit;
  "robot.weigh": RobotWeigh;
  "robot.place": RobotPlace;
  "robot.close-up": RobotCloseUp;
  "robot.reopen": RobotReopen;
  "robot.test": RobotTest;
  "robot.test-end": RobotTestEnd;
  "robot.live": RobotLive;
  "emergency.raise": EmergencyRaise;
  "emergency.end": EmergencyEnd;
  "alarm.take": AlarmTake;
  "work.take": WorkTake;
  "alarm.shelve": AlarmShelve;
  "time.set": TimeSet;
  "learn.set": LearnSet;
  "plan.replace": PlanReplace;
  "note.add": NoteAdd;
  "note.settle": NoteSettle;
  "undo": Undo;
}
export type Do = keyof Commands;

export type FromServer = Hello | Whole | Patches | Ack | Refused | Beat | Echo | Forecast;
export type ToServer = Resume | DoMessage | AskEcho;
