// What goes over the wire, mirrored by hand from the Go structs of package board
// and the derived nouns of package board/forecast. Times are RFC 3339 in UTC with
// milliseconds, "" where there is none.

export type Time = string;
export type Id = string;

// Words.

export type Role = "captain" | "crew" | "safety" | "viewer";
export type Skill = "mechanical" | "electrical" | "radio" | "weld" | "pressure" | "fabricate" | "drive" | "any";
export type EnergyKind =
  | "weapon-power" | "drive-power" | "gas" | "hydraulic" | "spring" | "spinning-mass" | "raised-arm" | "capacitor" | "hot-parts";
export type MassUnit = "g" | "kg" | "lb";
export type Size = "heavy" | "light";
export type PowerState =
  | "unknown" | "live" | "powered-down" | "isolated" | "verified" | "work" | "closing-up" | "test" | "ready";
export type PlaceKind = "bench" | "test-box" | "staging" | "arena" | "away" | "charging" | "watch" | "store";
export type StationKind = "bench" | "plate" | "grind" | "weld" | "charge" | "scale" | "test" | "gas" | "press" | "none";
export type PackState =
  | "unread" | "charged" | "in-robot" | "cooling" | "waiting" | "charging" | "storage" | "suspect" | "quarantined" | "gone";
export type Chemistry = "lipo" | "lipo-hv" | "li-ion" | "life" | "nimh" | "agm";
export type PackUse = "main" | "weapon" | "transmitter" | "tool";
export type FightState = "planned" | "on" | "done" | "dropped";
export type Result = "won" | "lost" | "drawn" | "forfeited" | "won-by-forfeit";
export type Grade = "G0" | "G1" | "G2" | "G3" | "G4" | "GX";
export type Severity = "glancing" | "solid" | "hard";
export type System = "lock" | "link" | "light" | "radio" | "weapon" | "drive" | "pack" | "structure" | "mass";
export type Triage = "must" | "should" | "could";
export type JobState = "open" | "running" | "held" | "finished" | "closed" | "dropped" | "deferred";
export type HoldWhy = "part" | "person" | "station" | "clock" | "lockout" | "stopped";
export type Way = "swap" | "mend" | "patch" | "check";
export type SheetList = "make-safe" | "first-in" | "inspect" | "close-up" | "reopen" | "ready" | "load-in" | "overnight" | "pack-up";
export type SheetState = "open" | "complete" | "unanswered";
export type Said = "done" | "no" | "not-fitted" | "suspect" | "owed";
export type LineKind = "do" | "look" | "number" | "place" | "pack" | "told" | "proof" | "sign" | "choice";
export type RestFrom = "match-end" | "left-arena" | "at-bench";
export type RestTo = "call" | "fight-start";
export type FailsafePlace = "test-box" | "arena-slot" | "officials-check";

// Nouns. `v` is the revision of the last change.

export interface Break { from: Time; to: Time }

export interface EventFields {
  name: string;
  /** The event's time in minutes east of UTC. */
  offsetMin?: number;
  activationOrder?: string[];
  deactivationOrder?: string[];
  /** The longest a weapon may take to stop by itself. */
  spinDownSec?: number;
  /** How early a robot must be at staging: so many fights before its own, and so many seconds before that. */
  leadFights?: number;
  leadSec?: number;
  /** The promised gap between two fights of one robot. */
  restSec?: number;
  restFrom?: RestFrom;
  restTo?: RestTo;
  postponeSec?: number;
  /** One for the team, which is the rule where nothing is said, or one for each robot. */
  postponeFor?: "team" | "robot";
  fightMeanSec?: number;
  fightMeanWorth?: number;
  breaks?: Break[];
  failsafeAt?: FailsafePlace[];
  emergencyContact?: string;
  chargingPlaces?: Id[];
  attendantMost?: number;
  repairerMaySign?: boolean;
  /** How long an answer about gas or capacitors holds while people are at work; 0 is 15 minutes. */
  tightBelow?: number;
  wontBelow?: number;
  recheckSec?: number;
  /** A load-in inspection comes before a test or a signature. */
  loadIn?: boolean;
  /** The venue's permit to grind and weld. */
  hotWork?: { needed?: boolean; text?: string; by?: string; until?: Time };
  /** The officials' emergency card. */
  card?: { text: string; approvedBy: string };
}
export interface Event extends EventFields {
  v: number;
  entered: { activationOrder?: Time; spinDown?: Time; chargingPlaces?: Time; emergencyContact?: Time; card?: Time };
}

export interface PersonFields {
  name: string;
  role: Exclude<Role, "viewer">;
  skills?: Skill[];
  authorised?: EnergyKind[];
  minor?: boolean;
  guest?: boolean;
  signer?: boolean;
  from?: string;
}
export interface Person extends PersonFields { id: Id; v: number; claimed?: Time; retired?: boolean; briefedAt?: Time; briefedBy?: Id }

export interface Energy { kind: EnergyKind; isolator: string; reach: "outside" | "inside"; moves?: string }
export interface RobotFields {
  name: string;
  /** The short number people shout. */
  number: number;
  /** `bonusPct` is allowed on top, for legs or the like; `walkingGrams` is the mass that has it, 0 all. */
  class: { name: string; limit: number; unit: MassUnit; ruleSet: string; bonusPct?: number; bonus?: string; walkingGrams?: number };
  size: Size;
  energies?: Energy[];
  lead?: Id;
  driver?: Id;
  /** How many people can work at it at once. */
  hands: number;
  beforeSec: number;
  afterSec: number;
  secondVerifier?: boolean;
  packInOutside?: boolean;
  /** How many packs it takes at once, all of one kind; none counts as 1. */
  mainPacks?: number;
  weaponPacks?: number;
  weight: number;
  withdrawn?: boolean;
}
export interface Robot extends RobotFields { id: Id; v: number; retired?: boolean }

export interface Span { from: Time; to?: Time }
/** Keyed power/<robot>. */
export interface Power {
  robot: Id;
  v: number;
  state: PowerState;
  since?: Time;
  by?: Id;
  why?: string;
  conflict?: boolean;
  day?: string;
  place?: Id;
  isolatedBy?: Id;
  verifiedBy?: Id;
  verifiedAt?: Time;
  readyBy?: Id;
  test?: { what: string; place: Id; until: Time; by: Id };
  /** The packs that were in it at the signature. */
  fitted?: Id[];
  failsafeOwed?: boolean;
  /** When it was last known to be in a fight. */
  foughtAt?: Time;
  /** Stands until event safety lifts it: no new work and no power. */
  stop?: { by: Id; at: Time; why: string };
  covered?: Span[];
  packOut?: Span[];
}

export interface PlaceFields { name: string; kind: PlaceKind }
export interface Place extends PlaceFields { id: Id; v: number; retired?: boolean }

/** `place` is where it stands; no pack may lie where a job grinds or welds. */
export interface StationFields { name: string; kind: StationKind; count: number; place?: Id }
export interface Station extends StationFields { id: Id; v: number; retired?: boolean }

export interface StockFields {
  name: string;
  count: number;
  where?: string;
  massGrams?: number;
  listCents?: number;
  paidCents?: number;
  leadDays?: number;
  /** Whom it belongs to, where it is on loan. */
  lender?: string;
}
export interface Stock extends StockFields { id: Id; v: number; retired?: boolean }

export interface CircuitFields { name: string; volts: number; ratingAmps: number; otherAmps?: number; saidBy: string }
/** `offAt` is since when it is off; none while it is on. */
export interface Circuit extends CircuitFields { id: Id; v: number; offAt?: Time; offBy?: Id; retired?: boolean }

export interface ChannelFields {
  name: string;
  charger: string;
  ampsMost: number;
  wattsMost: number;
  chargerWatts: number;
  cellsMost: number;
  /** Of the charger, 0 to 1; none where nobody knows. */
  powerFactor?: number;
  circuit?: Id;
  place?: Id;
}
export interface Channel extends ChannelFields { id: Id; v: number; retired?: boolean }

export interface PackFields {
  name: string;
  chemistry: Chemistry;
  cells: number;
  parallel: number;
  capacityAh: number;
  chargeAmpsMost: number;
  /** Who allowed to charge it faster than 1C. */
  fasterBy?: string;
  use: PackUse;
  massGrams?: number;
  fits?: Id[];
}
export type Look = "fine" | "swollen" | "torn" | "smells" | "smokes";
/** `cellsAt` and `tempAt` are there where the figures are older than `at`. */
export interface Reading {
  at: Time;
  by: Id;
  cellVolts?: number[];
  cellsAt?: Time;
  tempC?: number;
  tempAt?: Time;
  airC?: number;
  milliOhm?: number;
  /** By the charger's own counters. */
  returnedAh?: number;
  chargeMin?: number;
  look?: Look;
  charged?: boolean;
  /** The robot it came out of since it was last charged, and the current it was charged at. */
  fought?: Id;
  amps?: number;
}
/** What was read off a pack, oldest first: the last 60. */
export interface PackLog { pack: Id; v: number; readings: Reading[] }
export interface Pack extends PackFields {
  id: Id;
  v: number;
  state: PackState;
  /** Where it lies, or the robot it is in; neither means that nobody has said. */
  place?: Id;
  robot?: Id;
  /** Held while it charges. */
  channel?: Id;
  attendant?: Id;
  amps?: number;
  /** The circuit that went off while it charged; nobody has looked yet. */
  stopped?: Id;
  usedAt?: Time;
  fought?: Id;
  /** The robot whose next fight someone chose it for. */
  chosenFor?: Id;
  cameBack?: boolean;
  unread?: boolean;
  powered?: boolean;
  reading?: Reading;
  since?: Time;
  retired?: boolean;
}

export interface Fix {
  name: string;
  way: Way;
  likelySec: number;
  badSec: number;
  /** A skill for each pair of hands. */
  hands: Skill[];
  station: StationKind;
  where: "in" | "off" | "whole";
  stock?: { stock: Id; count: number }[];
  touches?: System[];
  lockout?: boolean;
  packOut?: boolean;
  limits?: string;
  /** How much of the damaged thing works after a patch. */
  worksPct?: number;
}
export interface TemplateFields { name: string; size: Size; triage: Triage; fixes: Fix[] }
export interface Template extends TemplateFields { id: Id; v: number; retired?: boolean }

/** The part map. Prices are of one part: its material, and the machining that others did. */
export interface PartFields {
  robot: Id;
  name: string;
  assembly?: string;
  material?: string;
  massGrams?: number;
  materialListCents?: number;
  materialPaidCents?: number;
  machiningListCents?: number;
  machiningPaidCents?: number;
  /** The team's own work on it. */
  ownSec?: number;
  leadDays?: number;
  /** The spare that goes in its place. */
  stock?: Id;
  /** To take it off and put it back, its fastenings apart. */
  offSec?: number;
  offBadSec?: number;
  /** What comes off before it: any one of these sets. */
  first?: { parts: Id[] }[];
  /** The parts that a hit on it runs into next. */
  next?: Id[];
  /** How much of a function goes with it, 1 to 100 %. */
  serves?: { function: string; share: number }[];
}
export interface Part extends PartFields { id: Id; v: number; retired?: boolean }

export interface JointFields {
  robot: Id;
  name: string;
  parts: Id[];
  fastening: string;
  count?: number;
  tool?: string;
  offSec?: number;
  offBadSec?: number;
}
export interface Joint extends JointFields { id: Id; v: number; retired?: boolean }

export interface ModuleFields {
  robot: Id;
  slot: string;
  name: string;
  massGrams: number;
  swapSec: number;
  swapBadSec: number;
  /** How many fights one of them is good for. */
  lasts?: number;
  stock?: Id;
}
export interface Module extends ModuleFields { id: Id; v: number; worn?: number; retired?: boolean }

export interface SetupFields {
  robot: Id;
  name: string;
  modules?: Id[];
  /** Named to the officials: the heaviest of these is weighed. */
  declared?: boolean;
  against?: string[];
  notes?: string;
  /** Functions that a fight in this setup does not ask for. */
  notNeeded?: string[];
}
export interface Setup extends SetupFields { id: Id; v: number; retired?: boolean }

/** What it takes to put a group of parts right when at least `from` of them are hit in one fight. */
export interface PartMend {
  group: string;
  /** Said in the first row of a group, as access and joints are. */
  parts?: string[];
  accessSec?: number;
  accessBadSec?: number;
  joints?: number;
  name: string;
  from: number;
  each?: boolean;
  likelySec: number;
  badSec: number;
  costCents?: number;
}

export interface ConstructionFields {
  robot: Id;
  name: string;
  built?: boolean;
  guessed?: boolean;
  massGrams?: number;
  listCents?: number;
  mends: PartMend[];
  notes?: string;
}

/** One way to build a robot's structure, for the debrief to compare. */
export interface Construction extends ConstructionFields { id: Id; v: number; retired?: boolean }

/** What is on a robot now, and what it weighed last. Keyed fit/<robot>. */
export interface Fit {
  robot: Id;
  v: number;
  setup?: Id;
  modules?: Id[];
  by?: Id;
  at?: Time;
  weighed?: { grams: number; scale?: string; stepGrams?: number; modules?: Id[]; packs?: Id[]; by?: Id; at: Time };
}

export interface FightFields {
  robot: Id;
  arena: string;
  number: number;
  opponent?: string;
  /** The team's own word for it: "spinner". */
  opponentKind?: string;
  notBefore?: Time;
  /** The fight exists only if fight `after` ends so. */
  after?: Id;
  if?: "won" | "lost";
}
export interface Fight extends FightFields {
  id: Id;
  v: number;
  state: FightState;
  result?: Result;
  onAt?: Time;
  endAt?: Time;
  setup?: Id;
  /** When someone first said that the robot was out of the arena, and back at a bench. */
  leftAt?: Time;
  benchAt?: Time;
  /** The postponement the event granted it. */
  postponed?: { at: Time; by?: Id; sec: number };
  /** Times after its end that the promised gap does not count. */
  pauses?: Span[];
}
export interface Sighting { id: Id; v: number; arena: string; number: number; at: Time; by?: Id }

export interface DamageFields {
  robot: Id;
  part: string;
  what?: string;
  grade: Grade;
  fight?: Id;
  hit?: number;
  severity?: Severity;
  /** Where it is on the part map: on a part or on a joint. */
  onPart?: Id;
  onJoint?: Id;
  stuck?: boolean;
  /** It broke when it was taken out. */
  destroyed?: boolean;
  /** How much of it still works as it is. */
  worksPct?: number;
  touches?: System[];
}
export interface Damage extends DamageFields { id: Id; v: number; number: number; by?: Id; at: Time; photos?: Id[]; dropped?: boolean }

export interface JobFields {
  robot: Id;
  name: string;
  triage: Triage;
  fixes: Fix[];
  damages?: Id[];
  template?: Id;
  after?: Id[];
  followUpOf?: Id;
}
export interface Stint extends Span { by: Id; held?: HoldWhy; endedBy?: Id; fix?: number; station?: Id }
export interface Job extends JobFields {
  id: Id;
  v: number;
  /** The number that can be shouted across a pit. */
  number: number;
  /** An index into fixes. */
  chosen?: number;
  assigned?: Id[];
  state: JobState;
  heldFor?: HoldWhy;
  heldText?: string;
  stints?: Stint[];
  started?: Time;
  finishedBy?: Id;
  finishedAt?: Time;
  closedAt?: Time;
  reinspected?: { by: Id; at: Time };
  acceptor?: Id;
  reason?: string;
  by?: Id;
  at: Time;
}

export interface Line {
  id: string;
  part: string;
  kind: LineKind;
  ask: string;
  touch?: string;
  /** The words on the two buttons. */
  say: string;
  not?: string;
  notFitted?: boolean;
  covers?: System[];
  energy?: EnergyKind;
  pack?: Id;
  unit?: string;
  /** The limits of a figure. */
  least?: number;
  most?: number;
  choices?: string[];
}
export interface Answer {
  line: string;
  said: Said;
  number?: number;
  place?: Id;
  pack?: Id;
  told?: Id;
  choice?: string;
  by: Id;
  at: Time;
  standing?: boolean;
  /** First given on paper, at `at`, and entered at `enteredAt`. */
  paper?: boolean;
  enteredAt?: Time;
  /** On record only: the line is answered anew. */
  record?: boolean;
}
export interface Sheet {
  id: Id;
  v: number;
  /** Counts a robot's sheets from 1. */
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

export interface Tag { id: Id; v: number; robot: Id; person: Id; isolator?: string; at: Time }
export interface Hands { id: Id; v: number; robot: Id; person: Id; at: Time }
/** What two people answer when they take an absent person's tag off. */
export interface Override { lookedWhere: string; calledHow: string; calledAt: Time; checkedBy: Id; reason: string }
/** For the person whose tag it was; `taken` is when they acknowledged it. */
export interface Notice extends Override { id: Id; v: number; person: Id; robot: Id; by: Id; second: Id; at: Time; taken?: Time }
/** What people are to do comes from the officials' card: see the alarm of it. */
export interface Emergency {
  id: Id;
  v: number;
  robot?: Id;
  place?: Id;
  what?: string;
  by?: Id;
  at: Time;
  endedBy?: Id;
  endedAt?: Time;
  how?: string;
}
/**
 * A line of the board's own in other words, by its id without number or pack ("link",
 * "look", "spinning-mass"); or one of the team's own, "own-…". Only the latter has
 * more than words. {name} in `ask` is the pack, the isolator or the robot.
 */
export interface WordedLine {
  id: string;
  ask?: string;
  touch?: string;
  say?: string;
  not?: string;
  part?: string;
  kind?: LineKind;
  notFitted?: boolean;
  covers?: System[];
  unit?: string;
  least?: number;
  most?: number;
  choices?: string[];
}
/** Keyed wording/<list>: the list's lines in the event's or the team's words and order. */
export interface Wording { list: SheetList; v: number; version: number; lines?: WordedLine[]; out?: string[]; by?: Id; at: Time }
/** Answers GET /api/lists: a list in the board's own words. `kept` carries a rule; `many` needs {name} in its question. */
export interface Listed { list: SheetList; lines: ListedLine[] }
export interface ListedLine { id: string; part: string; kind?: LineKind; kept?: boolean; many?: boolean; ask?: string; touch?: string; say?: string; not?: string }
/** What people did about alarm/<id>; the alarm itself says whether it still counts. */
export interface Mark {
  id: string;
  v: number;
  takenBy?: Id;
  takenAt?: Time;
  shelvedBy?: Id;
  shelvedAt?: Time;
  shelvedUntil?: Time;
  reason?: string;
}
/** Keyed foretold/<fight>: the chance shown before its call, in tenths; once `judged`, whether it was met. */
export interface Foretold { fight: Id; v: number; robot: Id; ready: number; at: Time; callAt: Time; judged?: Time; met?: boolean }
/** Keyed learn/<kind>: whether the team's own times count for a kind of work. */
export interface Learn { kind: string; v: number; on: boolean; by?: Id; at: Time }
/** What people were told of a job: left off, or with whom, by which fix and when. */
export interface Told { off?: boolean; people?: Id[]; fix?: number; startAt?: Time }
/** `was` is what they were told before, where that was something else. Times are those of the making: the order stands, the day slips. */
/** What people were told of a pack. */
export interface ToldCharge { robot: Id; channel: Id; amps: number; startAt: Time }
export interface FollowCharge extends ToldCharge { pack: Id; endAt: Time; was?: ToldCharge }
export interface FollowTask extends Told { job: Id; robot: Id; endAt?: Time; was?: Told }
/** Keyed follow/plan: the plan that people follow. `moved` are the jobs the plan before had otherwise. */
export interface Follow { v: number; by: "board" | "person"; person?: Id; at: Time; tasks: FollowTask[]; charges?: FollowCharge[]; moved: Id[] }
export interface Note { id: Id; v: number; about?: string; text: string; by?: Id; at: Time }

// Derived nouns: the forecast. Rounded, newest wins.

export interface Three { early: Time; median: Time; late: Time }
export interface Cause { kind: "person" | "station" | "part" | "clock" | "charge" | ""; text: string; job?: number }
export type Flag = "none" | "tight" | "wont-finish" | "no-call";
export interface Call {
  robot: Id;
  fight?: Id;
  arena?: string;
  number?: number;
  opponent?: string;
  /** The fight exists only if another ends so. */
  if?: "won" | "lost";
  startAt?: Three;
  callAt?: Three;
  /** The call is due or past; the robot is in the arena. */
  callNow: boolean;
  onNow: boolean;
  /** What is left to work in before the call; what the plan takes. */
  handsOnSec: number;
  needSec: number;
  readyAt?: Time;
  readyBadAt?: Time;
  flag: Flag;
  cause: Cause;
  uninspected: boolean;
  shortSec: number;
  /** The fights that hang on a result that is still out: both are planned for. */
  branches: Branch[];
  /** Not there where the event grants none, or there is no fight to come. `why` it may not be asked for. */
  postpone?: { sec: number; may: boolean; why?: string; granted?: Time };
}
/** `handsOnSec` is what its call leaves after the fight before it; `readyAt` is for the work known now. */
export interface Branch {
  fight: Id;
  /** Empty for the fight that comes after the next in any case. */
  if: "won" | "lost" | "";
  arena: string;
  number: number;
  opponent?: string;
  callAt?: Three;
  handsOnSec: number;
  readyAt?: Time;
  shortSec: number;
  flag: Flag;
}
export interface Lane { robot: Id; bars: Bar[] }
/** One job on a lane: solid to endAt, broken to badAt. */
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
export interface Plan {
  job: Id;
  /** An index into the job's fixes; -1 if it is left off or cannot be done. */
  fix: number;
  startAt?: Time;
  endAt?: Time;
  badAt?: Time;
  people: Id[];
  station?: string;
  flag: Flag;
  cause: Cause;
  /** What a finished job waits for before it closes. */
  owes: string[];
}
export type Act =
  | "tag" | "hands" | "start" | "resume" | "join" | "finish" | "sheet" | "first-in" | "close-up" | "tag-off" | "wait" | "none";
export interface Todo {
  person: Id;
  act: Act;
  robot?: Id;
  job?: Id;
  sheet?: Id;
  line?: string;
  title: string;
  where?: string;
  why?: string;
  /** The latest finish that still makes the call. */
  until?: Time;
  likelySec?: number;
  badSec?: number;
  /** Who held or finished a job that the person was at work on. */
  told?: string;
}
export type Phase =
  | "make safe" | "first in" | "inspect" | "work" | "open again" | "close up" | "test" | "weigh and sign" | "ready" | "arena";
export interface Strip {
  robot: Id;
  phase: Phase;
  sheet?: Id;
  /** The open line, counted from 1. */
  line?: number;
  lines?: number;
  ask?: string;
  who?: string;
  /** The state with who declared it and when. */
  said: string;
  /** What is to be answered again while people are at work, the first due first. */
  rechecks?: Recheck[];
}
export interface Recheck { sheet: Id; line: string; ask: string; due: Time }
/**
 * Times are forecasts: ready at, one time in ten before `earlyAt` and after `badAt`.
 * `takesSec` is how long it is on a charger. `again` says why it must be read again.
 */
export interface PackView {
  pack: Id;
  word: string;
  for?: Id;
  earlyAt?: Time;
  readyAt?: Time;
  badAt?: Time;
  coolAt?: Time;
  coolBadAt?: Time;
  takesSec?: number;
  takesBadSec?: number;
  readAt?: Time;
  again?: string;
  caution?: string;
}
export interface HealthPoint { at: Time; value: number; plusMinus?: number }
/** `value` from `n` logged cases beside what was believed before. */
export interface LearnedFigure { n: number; value?: number; before?: number }
/** Points of one pack: no date is foretold from them. */
export interface PackHealth {
  pack: Id;
  wear?: "sound" | "worn" | "end-of-life";
  ratedAh: number;
  capacity: HealthPoint[];
  ohms: HealthPoint[];
  spread: HealthPoint[];
  share: HealthPoint[];
  chargeOhm: LearnedFigure;
  coolMin: LearnedFigure;
}
/** Watt hours a fight of the robot takes, beside the guess for its weight. */
export interface FightEnergy { robot: Id; n: number; wh?: number; lowWh?: number; highWh?: number; guessLowWh: number; guessHighWh: number }
/** A charge on a channel: solid to endAt, broken to badAt; late where that is past neededAt. */
export interface ChargeBar {
  pack: Id;
  for?: Id;
  running: boolean;
  startAt: Time;
  endAt: Time;
  badAt: Time;
  amps: number;
  va: number;
  neededAt?: Time;
  late: boolean;
}
export interface ChannelView { channel: Id; bars: ChargeBar[] }
/** What the charges draw from each moment on, beside what may be drawn by the figures entered. */
export interface CircuitView { circuit: Id; budgetVA: number; load: { at: Time; va: number }[]; over: boolean; off: boolean }
/** Which packs a robot has for a fight to come. Keyed fightpacks/<fight>. `after` is the fight a pack comes back from first. */
export interface FightPacks {
  fight: Id;
  robot: Id;
  if?: Result;
  callAt: Time;
  /** When the packs must be in. */
  by: Time;
  packs: { pack: Id; readyAt?: Time; badAt?: Time; after?: Id }[];
  lacks?: string;
  /** In the bad case one of them is ready too late. */
  late: boolean;
}
/**
 * On how many of 10 such days the robot is ready for its call: `ready` 0 is fewer
 * than one, 10 is more than nine. While `uninspected` there is none, and the work
 * takes from `needLowSec` to `needHighSec`.
 */
export interface Chance {
  robot: Id;
  fight: Id;
  ready?: number;
  of: number;
  /** Where the robot is flagged. */
  cause?: Cause;
  uninspected: boolean;
  needLowSec?: number;
  needHighSec?: number;
}
/** What would help a robot that is flagged, the best first. */
export interface LeaveOff { robot: Id; fight: Id; ready: number; list: Remedy[] }
export interface Remedy {
  rank: number;
  text: string;
  /** On how many of 10 days the robot is ready then. */
  then: number;
  /** Points of 100 more, with the standard error; where not `clear` it may be none. */
  gain: number;
  err: number;
  clear: boolean;
  /** Ordinary commands, to be sent one after the other. */
  do: { do: string; with: unknown }[];
}
/**
 * Keyed alarm/<class>-<what it is about>; that id is what alarm.take and alarm.shelve
 * name. `act` begins with the name of who does it; in an emergency it is the
 * officials' card.
 */
export interface Alarm {
  class: "A" | "B" | "C";
  robot?: Id;
  what: string;
  act: string;
  since?: Time;
  /** Where the act is an answer to a line. */
  sheet?: Id;
  line?: string;
  /** In a flood: how many alarms of the robot this one stands for. */
  count?: number;
  /** Someone sees to it: it sounds no more. */
  takenBy?: Id;
  takenAt?: Time;
  /** Put aside until then; never one of class A. */
  shelvedBy?: Id;
  shelvedUntil?: Time;
  /** It has stood for longer than a fight, or an hour. */
  stale?: boolean;
}
/** What works now of a robot; not there without a part map and without damage. */
export interface Works {
  robot: Id;
  /** The name of the setup that is on. */
  setup?: string;
  functions: {
    name: string;
    word: "full" | "degraded" | "gone" | "not-required";
    pct: number;
    /** It may be less: some of the damage has no figure. */
    unsaid?: boolean;
    why: string[];
  }[];
  /** Damage that the part map has no place for. */
  other: string[];
  /** What a hit ran into next and nobody has reported on yet. */
  lookNext: { part: Id; name: string; from: string }[];
}
export interface Weight {
  grams: number;
  word: "under" | "over" | "close" | "unknown";
  text: string;
  /** From the last reading of a scale, from the masses of the part map, or not known. */
  basis: "scale" | "parts" | "none";
  overPct?: number;
}
/** A module with what is left of it. */
export interface Wearing { module: Id; slot: string; name: string; grams: number; on: boolean; left?: number }
export interface SetupNow {
  setup: Id;
  name: string;
  declared: boolean;
  weight: Weight;
  /** To change to it from what is on. */
  likelySec: number;
  badSec: number;
  untimed?: number;
  modules: Wearing[];
  against: string[];
  notes?: string;
  notNeeded: string[];
  /** How it fared, by kind of opponent; "" is of no kind said. */
  record: { kind: string; n: number; won: number; lost: number; drawn: number }[];
}
/** What a robot weighs in each of its setups. */
export interface Setups {
  robot: Id;
  limit: string;
  on?: Id;
  modules: Id[];
  now: Weight;
  weighed?: { grams: number; scale?: string; stepGrams?: number; by?: string; at: Time; stale?: string };
  list: SetupNow[];
  /** The declared setup that rules the weigh-in. */
  heaviest?: Id;
  differPct?: number;
  /** What the officials may refuse; nothing is barred by it. */
  warns?: string[];
}
/** What comes off, in its order, and what that takes. */
export interface WayIn {
  off: string[];
  joints: number;
  fasteners: number;
  tools: string[];
  likelySec: number;
  badSec: number;
  untimed?: number;
  /** A cheaper way may exist. */
  rough?: boolean;
}
/** How a robot's parts are reached. */
export interface Access {
  robot: Id;
  /** The one way to all that the unfinished jobs are about. */
  work: WayIn;
  parts: { part: Id; way: WayIn }[];
  /** The single points of failure. */
  alone: { part: Id; function: string }[];
}
/** Keyed relaxed/event; not there when nothing is relaxed. Shown on the wall. */
export interface Relaxed { list: string[] }

/** Keyed learned/<kind>: a job template's id, "before-<robot>" or "after-<robot>". Old and new beside each other. */
export interface Learned {
  kind: string;
  name: string;
  n: number;
  open: number;
  likelySec: number;
  badSec: number;
  learnedLikelySec: number;
  learnedBadSec: number;
  on: boolean;
}

/** Keyed scarce/<stock>: a spare that may not last for the fights still possible. `longerSec` is what the quickest fix without it takes more, -1 where there is none. */
export interface Scarce {
  stock: Id;
  name: string;
  left: number;
  jobs: { job: Id; robot: Id; takes: boolean; longerSec: number }[];
  fights: Id[];
  used: number;
  fought: number;
  text: string;
}
/** Keyed calibration/event: of the calls given a chance, how many were met. Not there before ten calls. */
export interface Calibration { n: number; said: { of10: number; n: number; met: number }[]; brier: number }
/** Keyed absent/<person>: when they are at fights of ours or on the sheets of a robot, in words. */
export interface Absent { person: Id; at: { from: Time; to: Time; what: string }[] }

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
  call: Call;
  chance: Chance;
  leaveoff: LeaveOff;
  lane: Lane;
  plan: Plan;
  todo: Todo;
  strip: Strip;
  packlog: PackLog;
  packview: PackView;
  packhealth: PackHealth;
  fightenergy: FightEnergy;
  channelview: ChannelView;
  circuitview: CircuitView;
  fightpacks: FightPacks;
  alarm: Alarm;
  relaxed: Relaxed;
  works: Works;
  setups: Setups;
  access: Access;
  learned: Learned;
  scarce: Scarce;
  absent: Absent;
  calibration: Calibration;
}
export type Kind = keyof Nouns;
export type Noun = Nouns[Kind];

// Commands: the fields of `with`, by the name in `do`.

export interface Commands {
  "event.set": EventFields;
  /** With no lines the list is the board's own again. Lines that carry a rule cannot be left out. */
  "wording.set": { list: SheetList; lines: WordedLine[] };
  "person.add": PersonFields;
  "person.change": PersonFields & { person: Id };
  "person.brief": { person: Id };
  "person.retire": { person: Id };
  "robot.add": RobotFields;
  "robot.change": RobotFields & { robot: Id };
  "robot.retire": { robot: Id };
  "place.add": PlaceFields;
  "place.change": PlaceFields & { place: Id };
  "place.retire": { place: Id };
  "station.add": StationFields;
  "station.change": StationFields & { station: Id };
  "station.retire": { station: Id };
  "stock.add": StockFields;
  "stock.change": StockFields & { stock: Id };
  "stock.retire": { stock: Id };
  "stock.use": { stock: Id; count: number };
  "stock.count": { stock: Id; count: number };
  "circuit.add": CircuitFields;
  "circuit.change": Omit<CircuitFields, "circuit"> & { circuit: Id };
  "circuit.retire": { circuit: Id };
  "circuit.off": { circuit: Id };
  /** `saidBy`: who answers for the wiring, and said why it went off. */
  "circuit.on": { circuit: Id; saidBy: string };
  "channel.add": ChannelFields;
  "channel.change": ChannelFields & { channel: Id };
  "channel.retire": { channel: Id };
  "template.add": TemplateFields;
  "template.change": TemplateFields & { template: Id };
  "template.retire": { template: Id };
  "part.add": PartFields;
  "part.change": PartFields & { part: Id };
  "part.retire": { part: Id };
  "joint.add": JointFields;
  "joint.change": JointFields & { joint: Id };
  "joint.retire": { joint: Id };
  "module.add": ModuleFields;
  "module.change": ModuleFields & { module: Id };
  /** A new one has taken its place: wear begins again. */
  "module.renew": { module: Id };
  "module.retire": { module: Id };
  "setup.add": SetupFields;
  "setup.change": SetupFields & { setup: Id };
  "setup.retire": { setup: Id };
  "construction.add": ConstructionFields;
  "construction.change": ConstructionFields & { construction: Id };
  "construction.retire": { construction: Id };
  "pack.add": PackFields;
  "pack.change": PackFields & { pack: Id };
  "pack.retire": { pack: Id };
  "pack.move": { pack: Id; place?: Id; robot?: Id };
  /** Which robot's next fight it is for; without a robot nobody's. */
  "pack.choose": { pack: Id; robot?: Id };
  "pack.set": { pack: Id; state: PackState; why?: string };
  "pack.charge": { pack: Id; channel: Id; attendant: Id; cells: number; amps: number; contained: boolean };
  "pack.off": { pack: Id };
  /** A refusal "unlikely" asks for it again with `sure`. */
  "pack.read": {
    pack: Id; cellVolts?: number[]; tempC?: number; airC?: number; milliOhm?: number; returnedAh?: number; chargeMin?: number;
    look?: Look; charged?: boolean; sure?: boolean;
  };
  "fight.add": FightFields;
  "fight.change": FightFields & { fight: Id };
  "fight.move": { fight: Id; arena: string; number: number; notBefore?: Time };
  "fight.drop": { fight: Id };
  "fight.now": { arena: string; number: number };
  "fight.end": { fight: Id; result: Result };
  /** `part` may be left out where `onPart` or `onJoint` names it. */
  "damage.report": DamageFields;
  "damage.outcome": { damage: Id; stuck?: boolean; destroyed?: boolean; worksPct?: number };
  "damage.hit": { damage: Id; fight?: Id; hit?: number; severity?: Severity };
  "damage.regrade": { damage: Id; grade: Grade; what?: string; drop?: boolean };
  /** `photo` is the id of a stored photo; live.js fills it in when it is given the picture itself. */
  "damage.photo": { damage: Id; photo?: Id };
  "job.add": Omit<JobFields, "name" | "triage" | "fixes"> & Partial<JobFields>;
  "job.change": JobFields & { job: Id };
  "job.fix": { job: Id; chosen: number };
  "job.assign": { job: Id; people: Id[] };
  /** `station` where several are of the kind that the fix asks for. */
  "job.start": { job: Id; station?: Id };
  "job.hold": { job: Id; why: HoldWhy; text?: string };
  "job.resume": { job: Id; station?: Id };
  "job.join": { job: Id; station?: Id };
  "job.leave": { job: Id };
  "job.finish": { job: Id };
  "job.reinspect": { job: Id };
  "job.reopen": { job: Id; reason?: string };
  "job.drop": { job: Id; reason?: string };
  "job.defer": { job: Id; acceptor: Id; reason: string };
  "tag.on": { robot: Id; person?: Id; isolator?: string };
  "tag.off": { tag: Id };
  "hands.on": { robot: Id; person?: Id };
  "hands.off": { hands: Id };
  "tag.override": Override & { tag: Id; second: Id };
  "hands.override": Override & { hands: Id; second: Id };
  "notice.take": { notice: Id };
  "sheet.answer": {
    sheet: Id; line: string; said: Said; number?: number; place?: Id; pack?: Id; told?: Id; choice?: string; person?: Id; paper?: boolean; at?: Time;
  };
  "robot.doubt": { robot: Id; why: string };
  /** Event safety's: unknown, all jobs held, until robot.go-on. */
  "robot.stop": { robot: Id; why: string };
  "robot.go-on": { robot: Id };
  "robot.load-in": { robot: Id };
  /** An overnight or a pack-up list. */
  "robot.list": { robot: Id; list: SheetList };
  /** A setup, or modules where it is none of the setups. */
  "robot.fit": { robot: Id; setup?: Id; modules?: Id[] };
  "robot.weigh": { robot: Id; grams: number; scale?: string; stepGrams?: number };
  "robot.place": { robot: Id; place: Id };
  "robot.close-up": { robot: Id };
  "robot.reopen": { robot: Id };
  "robot.test": { robot: Id; what: string; place: Id; minutes: number };
  "robot.test-end": { robot: Id };
  "robot.live": { robot: Id; place: Id };
  /** By anyone, minors and guests too. */
  "emergency.raise": { robot?: Id; place?: Id; what?: string };
  "emergency.end": { emergency: Id; how: string };
  /** `alarm` is the id in the alarm's key, as in B-call-…. */
  "alarm.take": { alarm: string };
  /** At most 15 minutes, never class A, never past `nextCall`. */
  "alarm.shelve": { alarm: string; minutes: number; reason: string; nextCall?: Time };
  "fight.postpone": { fight: Id };
  /** The officials had the robot: without `to` they still have it. */
  "fight.pause": { fight: Id; from: Time; to?: Time };
  "learn.set": { kind: string; on: boolean };
  /** Gives people another plan to follow; the board gives it by itself too. */
  "plan.replace": { tasks: (Told & { job: Id; endAt?: Time })[]; charges?: (ToldCharge & { pack: Id; endAt: Time })[] };
  "note.add": { about?: string; text: string };
  undo: { command: Id };
}
export type Do = keyof Commands;

// Messages.

export type Code =
  | "malformed" | "unknown" | "forbidden" | "bad-field" | "unlikely" | "taken" | "state" | "stale" | "safety" | "too-late" | "id-reused"
  | "read-only" | "too-many" | "restarting" | "need-pin" | "not-yet" | "nothing-done"
  | "no-session" | "too-big" | "not-a-picture" | "too-many-pixels" | "cannot-read" | "bad-id"
  /** Said by the device itself: there is no connection. */
  | "offline";
export interface Refusal { code: Code; rule?: number; ruleSays?: string; field?: string; sentence: string; now?: string }

export interface Hello {
  t: "hello";
  proto: string;
  epoch: Id;
  rev: number;
  from: number;
  now: Time;
  role: Role;
  person?: Id;
  name?: string;
  readOnly?: string;
  version: string;
}
export interface Whole { t: "board"; epoch: Id; rev: number; at: Time; put: Record<string, unknown> }
export interface Patch {
  rev: number;
  at: Time;
  by?: Id;
  do: string;
  put?: Record<string, unknown>;
  del?: string[];
}
export interface Patches { t: "patches"; list: Patch[] }
export interface Ack { t: "ack"; id: Id; rev: number }
export interface Refused { t: "refused"; id: Id; refusal: Refusal; entity?: unknown }
export interface Beat { t: "beat"; now: Time; readOnly?: string }
export interface Echo { t: "echo"; sent: number; got: Time; now: Time }
export interface Forecast {
  t: "forecast";
  epoch: Id;
  seq: number;
  of: number;
  at: Time;
  whole: boolean;
  put?: Record<string, unknown>;
  del?: string[];
}
export type FromServer = Hello | Whole | Patches | Ack | Refused | Beat | Echo | Forecast;

export interface DoMessage {
  t: "do";
  id: Id;
  do: string;
  with: unknown;
  seen?: Record<string, number>;
  at?: Time;
  pins?: { person: Id; pin: string }[];
}
export type ToServer = { t: "resume"; epoch: Id; rev: number } | { t: "echo"; sent: number } | DoMessage;

/** What a screen is given. */
export interface Ctx {
  board: import("./board.js").Board;
  live: import("./live.js").Live;
  clock: import("./clock.js").Clock;
  /** Shows the screen of a hash, such as "#/me". */
  go(hash: string): void;
  /** Tells a short sentence, to screen readers too. */
  say(sentence: string): void;
  /** Light or dark paper, kept on this device. */
  setScheme(scheme: "light" | "dark"): void;
}
export type Mount = (root: HTMLElement, ctx: Ctx, ...args: string[]) => () => void;

/** What GET /api/review answers; board/review says what each means. */
export interface ReviewCounts { fast: number; overrides: number; tags: number; late: number; paper: number; uncovered: number; alarms: number }
export interface Review {
  at: Time;
  of: number;
  event: string;
  turnarounds: (ReviewCounts & { robot: Id; name: string; from: Time; readyAt?: Time; readyBy?: string; to?: Time })[];
  whole: ReviewCounts;
  fast: { robot: Id; name: string; list: SheetList; lines: number; sec: number; readSec: number; by: string[]; at: Time }[];
  overrides: { robot: Id; name: string; owner: string; by: string; second: string; reason: string; at: Time; taken?: Time }[];
  relaxed: { text: string; from: Time; to?: Time }[];
  alarms: {
    stepSec: number;
    people: { who: string; total: number; most: number; mostAt: Time; mean: number }[];
    classes: { class: string; count: number; percent: number; target: number }[];
    targets: { mean: number; flood: number };
  };
  tags: { robot: Id; name: string; person: string; on: Time; off?: Time; quietSec: number; override?: boolean }[];
  late: { robot: Id; name: string; list: SheetList; ask: string; by: string; at: Time; heard: Time; paper?: boolean }[];
  uncovered: { robot: Id; name: string; number: number; job: string; sec: number; at: Time; by?: string; when?: Time }[];
}

/** What GET /api/debrief answers; board/debrief says what each means. */
export type Spend = "making-safe" | "finding" | "wait-part" | "wait-person" | "wait-station" | "wait-other" | "fixing" | "checking";
export interface Bill {
  robot?: Id; fight?: Id; hit?: number; name: string; at?: Time;
  materialListCents: number; materialPaidCents: number; machiningListCents: number; machiningPaidCents: number; ownSec: number;
  listCents: number; paidCents: number; listShare?: number; paidShare?: number; leadDays: number;
  sec?: Partial<Record<Spend, number>>; workSec: number; waitSec: number; handSec: number;
  used?: { name: string; pieces: number; listCents: number; paidCents: number }[];
  leftOff?: string[]; damages: number; foundLater: number;
  /** Nothing on it is worth a row. */
  quiet?: boolean;
}
export interface DebriefFigure { name: string; value?: number; unit: string; n: number; of: string; trap?: string }
export interface Ranked { name: string; amount: number; cumulative: number; n: number }
export interface TimedJob { job: Id; number: number; name: string; likelySec: number; badSec: number; actualSec: number; open?: boolean }
export interface DebriefSection {
  robot?: Id; name: string; bill: Bill; figures: DebriefFigure[];
  byMinutes: Ranked[]; byMoney: Ranked[]; byRepeat: Ranked[]; byJoint?: Ranked[]; jobs: TimedJob[];
}
export interface Range { p10: number; p50: number; p90: number; mean: number }
export interface Outcome { name: string; guessed: boolean; massGrams: number; costCents: number; joints: number; sec: Range; moneyCents: Range; missed: number }
export interface Compared {
  robot: Id; name: string; fights: number; damaging: number; members: number; replays: number; moves: number; built: Outcome; other: Outcome;
  otherSlower: number; otherMisses: number; sameMisses: number; otherDearer: number;
  more: { sec: Range; moneyCents: Range; slower: number; dearer: number };
  turn: { step?: string; priceCents?: number; nowCents: number; lostPerFight: number; lossPerFight?: number; moneyLossPerFight?: number };
  outside?: string[]; verdict: string; decided: boolean; assumes: string; gap: string; condition: string;
}
export interface CalledChance { robot: Id; fight: Id; name: string; at: Time; of10: number; met: boolean }
export interface Packed { massGrams: number; listCents: number; chance: number }
export interface Debrief {
  event: string; from?: Time; to?: Time; lines: number; fought: number;
  all: DebriefSection; robots: DebriefSection[]; fights: Bill[]; hits: Bill[]; compared: Compared[]; calls: CalledChance[];
  /** How good the chances were; not there before ten calls. */
  chances?: { n: number; brier: number; always: number };
  bring: {
    fights: number; massGrams?: number; moneyCents?: number;
    rows: { stock: Id; name: string; taken: number; hits: number; n: number; guess?: number; perFight: number; miss: number; have: number; exact: number; greedy: number; massGrams: number; listCents: number; last?: { now: number; keep: number } }[];
    exact: Packed; greedy: Packed; have: Packed; noneChance: number; lastKilogram?: number; order?: { name: string; chance: number }[];
  };
  after: {
    shop: { name: string; pieces: number; listCents: number; leadDays: number; have: number }[];
    loans: { name: string; from: string; left: number; taken: number }[];
    packs: { pack: Id; name: string; do: string }[];
  };
  reads: string[];
}
