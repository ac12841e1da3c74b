// Words: what the wire's words are called on the screens, in the trade's words, and
// the short sentences that several screens say.

import { clock, wholeMinutes } from "./clock.js";

/** @typedef {import("./wire.d.ts").PowerState} PowerState */
/** @typedef {import("./ctx.d.ts").Ctx} Ctx */
/** @typedef {import("./board.js").Board} Board */

/** @type {Record<PowerState, string>} */
export const powerWords = {
  unknown: "UNKNOWN",
  live: "LIVE",
  "powered-down": "powered down",
  isolated: "isolated",
  verified: "verified",
  work: "WORK",
  "closing-up": "closing up",
  test: "TEST, POWER ON",
  ready: "READY",
};

/** Ways in which a robot can hurt. @type {[import("./wire.d.ts").EnergyKind, string][]} */
export const energyKinds = [
  ["weapon-power", "weapon power"], ["drive-power", "drive power"], ["gas", "gas"], ["hydraulic", "hydraulic"], ["spring", "spring"],
  ["spinning-mass", "spinning mass"], ["raised-arm", "raised arm"], ["capacitor", "capacitors"], ["hot-parts", "hot parts"],
];

/** What places are for. @type {[import("./wire.d.ts").PlaceKind, string][]} */
export const placeKinds = [
  ["bench", "bench"], ["test-box", "test box"], ["staging", "staging"], ["arena", "arena"], ["away", "away"], ["charging", "charging"],
  ["watch", "watch: warm packs"], ["store", "store"],
];

/** @type {Record<import("./wire.d.ts").JobState, string>} */
export const jobWords = {
  open: "not started",
  running: "on it",
  held: "on hold",
  finished: "finished, checks owed",
  closed: "closed",
  dropped: "dropped",
  deferred: "left off",
};

/** @type {Record<import("./wire.d.ts").HoldWhy, string>} */
export const holdWords = {
  part: "waits for a part",
  person: "waits for a person",
  station: "waits for a station",
  clock: "no time now",
  lockout: "the robot left work",
  stopped: "event safety stopped it",
};

/** In how many minutes a part may come, where anyone knows. */
export const partMinutes = [5, 15, 30, 60];

/** What a held job waits for, with when its part is to come. @param {import("./wire.d.ts").Job} job */
export function heldWords(job) {
  const words = holdWords[job.heldFor ?? "clock"];
  const { at, minutes } = (job.heldFor === "part" && job.part) || {};
  return at && minutes ? `${words}, due about ${clock.hhmm(Date.parse(at) + minutes * 60_000)}` : words;
}

/** @type {Record<import("./wire.d.ts").SheetList, string>} */
export const listWords = {
  "make-safe": "MAKE SAFE",
  "first-in": "FIRST IN",
  inspect: "INSPECT",
  "close-up": "CLOSE UP",
  reopen: "REOPEN",
  ready: "READY",
  "load-in": "LOAD IN",
  overnight: "OVERNIGHT",
  "pack-up": "PACK UP",
};

/** @type {Record<import("./wire.d.ts").PackState, string>} */
export const packWords = {
  unread: "not read",
  charged: "charged",
  "in-robot": "in a robot",
  cooling: "cooling",
  waiting: "waits for a charger",
  charging: "charging",
  storage: "at storage volts",
  suspect: "SET ASIDE, suspect",
  quarantined: "SET ASIDE, watched",
  gone: "gone",
};

/** @type {Record<import("./wire.d.ts").Flag, string>} */
export const flagWords = {
  none: "",
  tight: "TIGHT",
  "wont-finish": "WON’T FINISH",
  "no-call": "no call yet",
};

/** A chance in tenths; never none, never certain. @param {number} n */
export const chanceWords = (n) => (n <= 0 ? "under 1 of 10" : n >= 10 ? "over 9 of 10" : `${n} of 10`);

/** The same where there is little room. @param {number} n */
export const chanceFigure = (n) => (n <= 0 ? "<1/10" : n >= 10 ? ">9/10" : `${n}/10`);

/** A person's name, or "someone". @param {Board} board @param {string | undefined} id */
export const nameOf = (board, id) => (id && board.get(`person/${id}`)?.name) || "someone";

/** A robot's name. @param {Board} board @param {string | undefined} id */
export const robotOf = (board, id) => (id && board.get(`robot/${id}`)?.name) || "a robot";

/** A place's name, or "". @param {Board} board @param {string | undefined} id */
export const placeOf = (board, id) => (id && board.get(`place/${id}`)?.name) || "";

/** "Ada", "Ada and Ben", "Ada, Ben and Di". @param {readonly string[]} names */
export function listNames(names) {
  if (names.length < 2) return names.join("");
  return `${names.slice(0, -1).join(", ")} and ${names[names.length - 1]}`;
}

/** How far a function works. @param {import("./wire.d.ts").Works["functions"][number]} f */
export function functionWords(f) {
  switch (f.word) {
    case "full": return "works";
    case "gone": return "GONE";
    case "not-required": return "not needed in this setup";
    default: return f.unsaid ? (f.pct < 100 ? `AT MOST ${f.pct} %` : "DEGRADED, nobody said how far") : `${f.pct} %`;
  }
}

/** What of a robot is not whole, in one line. @param {Board} board @param {string} robot */
export function worksLine(board, robot) {
  const works = board.get(`works/${robot}`);
  if (!works) return "";
  const less = works.functions.filter((f) => f.word !== "full" && f.word !== "not-required");
  const unsaid = less.filter((f) => f.word !== "gone" && f.unsaid && f.pct === 100).map((f) => f.name);
  const said = less.filter((f) => !unsaid.includes(f.name)).map((f) => `${f.name} ${functionWords(f)}`);
  if (unsaid.length) said.push(`less than whole: ${unsaid.join(", ")}`);
  return said.length ? `what works now: ${said.join(" · ")}` : works.functions.length ? "all of it works" : "";
}

/** An amount in the event's currency: "71.00 crowns". @param {Board} board @param {number} cents */
export const money = (board, cents) => `${(cents / 100).toFixed(2)} ${board.get("event/event")?.currency ?? ""}`.trim();

/**
 * What something costs: "18.30 crowns at list price, 12.00 crowns paid".
 * @param {Board} board
 * @param {number} list in cents
 * @param {number} paid in cents
 */
export const priceWords = (board, list, paid) => `${money(board, list)} at list price, ${money(board, paid)} paid`;

/** What a robot's hits of today have cost so far. @param {Board} board @param {string} robot */
export function costLine(board, robot) {
  const cost = board.get(`cost/${robot}`);
  return cost
    ? `${count(cost.hits, "hit")} today: ${priceWords(board, cost.listCents, cost.paidCents)}`
    : "no hits today";
}

/** "1 job", "2 jobs". @param {number} n @param {string} one @param {string} [many] */
export const count = (n, one, many = `${one}s`) => `${n} ${n === 1 ? one : many}`;

/** When a fight to come is ours: if another is won, or lost, or in any case. @param {import("./wire.d.ts").Branch} x */
export const ifWords = (x) => (x.if ? `if ${x.if}` : "then");

/**
 * When a fight of ours is called and when it starts, as the clock has it now.
 * @param {Ctx} ctx
 * @param {import("./wire.d.ts").Fight} fight
 */
export function foreseen({ board, clock }, fight) {
  const call = board.get(`call/${fight.robot}`);
  if (call?.fight === fight.id && !call.onNow && call.callAt && call.startAt) {
    return `call ${clock.hhmm(call.callAt.median)}, starts ${clock.hhmm(call.startAt.median)}`;
  }
  const callAt = call?.branches.find((x) => x.fight === fight.id)?.callAt;
  return callAt ? `call ${clock.hhmm(callAt.median)}` : "";
}

/** What became of the postponement, where it is not there to ask for. @param {Ctx} ctx @param {string} robot */
export function postponeLine({ board, clock }, robot) {
  const postpone = board.get(`call/${robot}`)?.postpone;
  if (!postpone || postpone.may) return "";
  return postpone.granted ? `postponed by ${minutes(postpone.sec)} min at ${clock.hhmm(postpone.granted)}` : (postpone.why ?? "");
}

/** A robot's power state and who said so. @param {Ctx} ctx @param {string} id @returns {string} */
export function powerLine(ctx, id) {
  const power = ctx.board.get(`power/${id}`);
  if (!power) return "";
  if (ctx.live.stale >= 20) return "UNKNOWN to this screen: no word from the board";
  if (power.state === "unknown") return `${powerWords.unknown}: ${power.why || "nobody has looked today"}`;
  if (power.state === "test" && power.test) return `TEST, POWER ON: ${power.test.what} until ${ctx.clock.hhmm(power.test.until)}`;
  if (power.verifiedAt && power.state === "verified") {
    return `verified by ${nameOf(ctx.board, power.verifiedBy)} ${ctx.clock.hhmm(power.verifiedAt)}`;
  }
  if (power.verifiedAt && ["work", "closing-up"].includes(power.state)) {
    return `${powerWords[power.state]} · verified by ${nameOf(ctx.board, power.verifiedBy)} ${ctx.clock.hhmm(power.verifiedAt)}`;
  }
  if (power.state === "ready") {
    const on = power.readyOn ? `, on one device with ${nameOf(ctx.board, power.readyOn)}` : "";
    return `${powerWords.ready} · signed by ${nameOf(ctx.board, power.readyBy)} ${ctx.clock.hhmm(power.since)}${on}`;
  }
  return `${powerWords[power.state]} · said by ${nameOf(ctx.board, power.by)} ${ctx.clock.hhmm(power.since)}`;
}

/**
 * Everyone whose hands are on a robot, by name, each once: by a tag, by hands near,
 * or by a job there that they are at work on.
 * @param {Ctx} ctx
 * @param {string} robot
 */
export function handsOn({ board }, robot) {
  /** @type {Map<string, {name: string, by: "tag" | "near" | "job", job?: import("./wire.d.ts").Job}>} */
  const on = new Map();
  for (const t of board.all("tag")) if (t.robot === robot) on.set(t.person, { name: nameOf(board, t.person), by: "tag" });
  for (const h of board.all("hands")) {
    if (h.robot === robot && !on.has(h.person)) on.set(h.person, { name: nameOf(board, h.person), by: "near" });
  }
  for (const job of board.all("job")) {
    if (job.robot !== robot || job.fixes[job.chosen ?? 0]?.where === "off") continue;
    for (const person of atWork(job)) if (!on.has(person)) on.set(person, { name: nameOf(board, person), by: "job", job });
  }
  return [...on.values()].sort((x, y) => x.name.localeCompare(y.name));
}

/** Who is at work on a job now. @param {import("./wire.d.ts").Job} job */
export const atWork = (job) => (job.state === "running" ? (job.stints ?? []).filter((st) => !st.to).map((st) => st.by) : []);

/** Who is on a robot or near it. @param {Ctx} ctx @param {string} id */
export function onItLine(ctx, id) {
  const all = handsOn(ctx, id);
  const names = (/** @type {string} */ by) => listNames(all.filter((h) => h.by === by).map((h) => h.name));
  const parts = [];
  if (names("tag")) parts.push(`tags on: ${names("tag")}`);
  if (names("near")) parts.push(`hands near: ${names("near")}`);
  for (const h of all) if (h.job) parts.push(`${h.name} is on job ${h.job.number}`);
  return parts.join(" · ") || "nobody’s tag is on";
}

/** The minutes that some work takes, or that something is put off by: "25". @param {number} sec */
export const minutes = (sec) => wholeMinutes(sec, "work");

/** How a robot's last load-in inspection stands, or "". @param {Ctx} ctx @param {string} robot */
export function loadInSaid({ board, clock }, robot) {
  const last = board.all("sheet").filter((h) => h.robot === robot && h.list === "load-in").sort((x, y) => y.number - x.number)[0];
  if (!last) return "";
  if (last.state === "open") return `load-in inspection: begun ${clock.hhmm(last.openedAt)}`;
  const who = [...new Set((last.answers ?? []).map((a) => nameOf(board, a.by)))];
  return last.state === "complete"
    ? `load-in inspection: done ${clock.hhmm(last.endedAt)} by ${who.join(", ")}`
    : `load-in inspection: ended unanswered ${clock.hhmm(last.endedAt)}`;
}

/** What raising an emergency is called: done, and not done. */
export const emergencyWords = {
  says: "emergency raised on every screen", asked: "raise the emergency. SHOUT. Get clear. Tell event safety.",
};

/**
 * What a command does, for the list of those not sent yet.
 * @param {Board} board
 * @param {string} what
 * @param {any} fields
 */
export function commandWords(board, what, fields) {
  const job = () => {
    const j = fields.job && board.get(`job/${fields.job}`);
    return j ? `job ${j.number}, ${j.name}` : "a job";
  };
  switch (what) {
    case "emergency.raise":
      return `emergency${fields.robot ? ` at ${robotOf(board, fields.robot)}` : ""}`;
    case "tag.on":
      return `my tag on ${robotOf(board, fields.robot)}: others can’t see it yet`;
    case "hands.on":
      return `hands near ${robotOf(board, fields.robot)}: others can’t see it yet`;
    case "job.start":
      return `start ${job()}`;
    case "job.hold":
      return `hold ${job()}`;
    case "job.resume":
      return `resume ${job()}`;
    case "job.join":
      return `be on ${job()} too`;
    case "job.leave":
      return `leave ${job()}`;
    case "job.finish":
      return `done with ${job()}`;
    case "damage.report":
      return `damage on ${robotOf(board, fields.robot)}: ${fields.part}`;
    case "damage.photo":
      return "photo of a damage";
    case "part.bend":
      return `how straight ${board.get(`part/${fields.part}`)?.name ?? "a part"} is`;
    case "note.add":
      return `note: ${fields.text}`;
    case "pack.read":
      return `reading of pack ${board.get(`pack/${fields.pack}`)?.name ?? ""}`.trim();
    default:
      return what;
  }
}

/** What a grade asks for (trade: mended now, patched, or left). @type {[import("./wire.d.ts").Grade, string][]} */
export const grades = [
  ["GX", "can hurt people: lock, link, failsafe, pack, gas, cracked weapon"],
  ["G3", "mend or swap it before we fight"],
  ["G2", "a patch will do"],
  ["G1", "it can wait"],
  ["G4", "not today"],
  ["G0", "no action, just noted"],
];

/** @param {string} grade */
export const gradeWords = (grade) => grades.find(([g]) => g === grade)?.[1].split(":")[0] ?? "";
