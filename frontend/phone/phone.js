// Phone: my next move, one thing with one big button; behind it what goes wrong
// with it, and more.

import { ago, b, div, h1, hold, input, label, left, p, span, tap } from "../core/tags.js";
import { holdWords } from "../core/words.js";
import { Acts, flagView, minutes, openSheets, patchLine, peopleLine, robotFacts, robotHead, robotName, robots, sawOf, screen } from "../core/screen.js";

/** @typedef {import("../core/wire.d.ts").Ctx} Ctx */
/** @typedef {import("../core/wire.d.ts").Todo} Todo */
/** @typedef {import("../core/wire.d.ts").Job} Job */
/** @typedef {import("../core/tags.js").Node} Node */

/** Why a person may hold a job; the board's own reason is not among them. */
const holdWhys = /** @type {const} */ (["part", "person", "station", "clock"]);

/** One phone's screen: a page and what is typed on it. */
export class Phone {
  /** What is typed on this page, by field. @type {Record<string, string>} */
  typed = {};
  /** The page whose module is being fetched. */
  fetching = "";
  /** Another screen has taken its place. */
  gone = false;

  /** @param {HTMLElement} root @param {Ctx} ctx @param {string[]} path name of the page, what it is about, and whom */
  constructor(root, ctx, path) {
    this.ctx = ctx;
    [this.page = "", this.about = "", this.other = ""] = path;
    this.screen = screen(root, ctx, () => this.view());
    this.acts = new Acts(ctx, this.screen.redraw);
    this.screen.redraw();
  }

  get board() {
    return this.ctx.board;
  }

  /** This device's person. */
  get me() {
    return this.ctx.live.me?.person ?? "";
  }

  /** Minors and guests mark hands near; a tag is not for them. */
  get nearOnly() {
    const person = this.board.get(`person/${this.me}`);
    return Boolean(person?.minor || person?.guest);
  }

  /** My next move, unless it is worked out anew just now: its sheet is over already. */
  get todo() {
    const todo = this.board.get(`todo/${this.me}`);
    const sheet = todo?.sheet ? this.board.get(`sheet/${todo.sheet}`) : undefined;
    return sheet && sheet.state !== "open" ? undefined : todo;
  }

  /** @param {string} name @param {string} text */
  type(name, text) {
    this.typed[name] = text;
    this.screen.redraw();
  }

  /** The same command waits on this device already. @param {string} what @param {string} id */
  waits(what, id) {
    return this.ctx.live.waiting.some((w) => w.do === what && (w.with.job === id || w.with.robot === id));
  }

  view() {
    const name = this.page === "" && this.notice ? "notice" : this.page;
    if (!pages[name]) this.#fetch(name);
    return (pages[name] ?? (name in later ? fetchPage : nextPage))(this);
  }

  /** What I have to read before anything else: my tag or hands were taken off. */
  get notice() {
    return this.board.all("notice").find((n) => n.person === this.me && !n.taken);
  }

  /** Fetches the module of a page, and draws again. @param {string} name */
  async #fetch(name) {
    const load = later[name];
    if (!load || this.fetching === name) return;
    this.fetching = name;
    const ok = await load().then(() => true, () => false);
    this.fetching = "";
    if (ok) this.screen.redraw();
  }

  /**
   * A page: head, body, what happened, buttons at the bottom.
   * @param {string | undefined} robot
   * @param {string} title
   * @param {import("../core/tags.js").Children} body
   * @param {import("../core/tags.js").Children} foot
   */
  frame(robot, title, body, foot) {
    const inHead = !robot || title === robotName(this.ctx, robot);
    return div(
      { class: "phone" },
      robotHead(this.ctx, robot, inHead ? title : ""),
      ["alarms", "emergency"].includes(this.page) ? null : peopleLine(this.ctx, robot),
      title && !inHead ? h1({ class: "title" }, title) : null,
      body,
      div({ class: "spring" }),
      this.acts.view(),
      div({ class: "foot" }, foot),
    );
  }

  /** @param {string} hash @param {string} words @param {string} [cls] */
  to(hash, words, cls = "") {
    return tap({ key: hash, class: cls, words, act: () => this.ctx.go(hash) });
  }

  /** A field for a few figures. @param {string} name @param {string} words */
  figures(name, words) {
    const id = name.replace(/\W+/g, "-");
    return div({ class: "text-field" }, label({ for: id }, words),
      input({ id, type: "text", inputMode: "numeric", autoComplete: "off", value: this.typed[name] ?? "", onInput: (e) => this.type(name, e.currentTarget.value) }));
  }

  /** A field for a few words. @param {string} name @param {string} words */
  field(name, words) {
    return div({ class: "text-field" }, label({ for: name }, words),
      input({ id: name, type: "text", autoComplete: "off", value: this.typed[name] ?? "", onInput: (e) => this.type(name, e.currentTarget.value) }));
  }
}

/** @param {Phone} phone */
function nextPage(phone) {
  const { todo } = phone;
  if (!phone.me) return phone.frame(undefined, "This device has no name yet", p({ class: "lead" }, "Join with your name to get work."), phone.to("#/me/more", "MORE", "main"));
  if (!todo || todo.act === "none") return idlePage(phone, todo);
  const job = todo.job ? phone.board.get(`job/${todo.job}`) : undefined;
  return phone.frame(
    todo.robot,
    "",
    div({ class: "next" },
      p({ class: "overline" }, "my next move"),
      h1({ class: "move" }, job && todo.title === job.name ? `${job.number} ${job.name}` : todo.title),
      todo.where || todo.why ? p({ class: "where" }, [todo.where, todo.why].filter(Boolean).join(" · ")) : null,
      timeView(phone, todo, job),
      job ? patchLine(phone.ctx, job) : null,
      job ? flagLine(phone, job) : null,
      div({ class: "facts" }, todo.robot ? robotFacts(phone.ctx, todo.robot) : null, recheckLine(phone, todo.robot))),
    [
      div({ class: "row" },
        phone.to(`#/me/trouble/${todo.robot ?? ""}`, "trouble"),
        recheckButton(phone, todo.robot) ?? (job && ["running", "held"].includes(job.state) ? phone.to(`#/me/hold/${job.id}`, "hold") : null),
        phone.to("#/me/more", "more")),
      div({ class: "gap" }),
      bigButton(phone, todo),
    ],
  );
}

/** @param {Phone} phone @param {Todo | undefined} todo */
function idlePage(phone, todo) {
  return phone.frame(
    todo?.robot,
    "",
    [p({ class: "overline" }, "my next move"), h1({ class: "move" }, todo?.title || "Nothing for you right now"), p({ class: "why" }, todo?.why || "Other work and all robots are behind the button.")],
    [div({ class: "row" }, phone.to("#/me/trouble", "trouble")), div({ class: "gap" }), phone.to("#/me/more", "MORE", "main")],
  );
}

/** What is to be answered again while people are at work, each with the time left. @param {Phone} phone @param {string} robot */
export function rechecksView(phone, robot) {
  const list = phone.board.get(`strip/${robot}`)?.rechecks ?? [];
  if (list.length === 0 || phone.nearOnly) return null;
  return div({ class: "stack" }, list.map((r) => div({ class: "item", key: r.line },
    p({ class: "fact" }, "check again, or everyone leaves it, in ", b(null, left({ until: r.due }))),
    phone.to(`#/sheet/${r.sheet}/${r.line}`, r.ask))));
}

/** What is to be answered again first on a robot that I may answer for. @param {Phone} phone @param {string | undefined} robot */
const nextRecheck = (phone, robot) => (robot && !phone.nearOnly ? phone.board.get(`strip/${robot}`)?.rechecks?.[0] : undefined);

/** @param {Phone} phone @param {string | undefined} robot */
function recheckLine(phone, robot) {
  const r = nextRecheck(phone, robot);
  return r ? p({ class: "fact" }, "check again in ", b(null, left({ until: r.due })), ", or all leave it") : null;
}

/** @param {Phone} phone @param {string | undefined} robot */
function recheckButton(phone, robot) {
  const r = nextRecheck(phone, robot);
  return r ? phone.to(`#/sheet/${r.sheet}/${r.line}`, "check again") : null;
}

/** Minutes left for the job and minutes so far. @param {Phone} phone @param {Todo} todo @param {Job | undefined} job */
function timeView(phone, todo, job) {
  const soFar = job ? workedView(job) : null;
  const guess = todo.likelySec ? `likely ${minutes(todo.likelySec)} min, bad case ${minutes(todo.badSec ?? todo.likelySec)}` : "";
  if (!todo.until) return guess || soFar ? p({ class: "time" }, soFar, soFar && guess ? " · " : null, guess) : null;
  return div(
    { class: "time" },
    div({ class: "figure" }, left({ until: todo.until }), span({ class: "left-word" }, "left")),
    p(null, "by ", b(null, phone.ctx.clock.hhmm(todo.until)), soFar ? [" · ", soFar] : guess ? ` · ${guess}` : null),
  );
}

/** The job's own flag with the one cause that matters most. @param {Phone} phone @param {Job} job */
function flagLine(phone, job) {
  const plan = phone.board.get(`plan/${job.id}`);
  if (!plan || plan.flag === "none" || plan.flag === "no-call") return null;
  const said = phone.board.get(`call/${job.robot}`)?.flag === plan.flag; // by the head
  return p({ class: "flag-line" }, said ? null : flagView(plan.flag), span(null, plan.cause?.text ?? ""));
}

/** How long hands were on a job until now; it counts on while the job runs. @param {Job} job */
function workedView(job) {
  const stints = job.stints ?? [];
  const ended = stints.filter((s) => s.to).reduce((ms, s) => ms + Date.parse(/** @type {string} */ (s.to)) - Date.parse(s.from), 0);
  const running = stints.find((s) => !s.to);
  if (running) return [ago({ since: new Date(Date.parse(running.from) - ended).toISOString() }), " so far"];
  return ended >= 60_000 ? `${Math.round(ended / 60_000)} min so far` : null;
}

/** The one big button. @param {Phone} phone @param {Todo} todo */
function bigButton(phone, todo) {
  const { robot = "", job = "", sheet } = todo;
  switch (todo.act) {
    case "tag": return job && phone.board.all("tag").some((t) => t.robot === robot && t.person === phone.me) ? workButton(phone, job) : tagButton(phone, robot, "main");
    case "hands": return handsButton(phone, robot, "main");
    case "tag-off": return offButton(phone, robot);
    case "close-up": return tap({ class: "main", words: "BEGIN CLOSING UP", act: () => closeUp(phone, robot) });
    case "start":
    case "resume":
    case "finish": return workButton(phone, job);
    case "sheet":
    case "first-in": return phone.to(`#/sheet/${sheet}`, "OPEN THE SHEET", "main");
  }
  return robot ? phone.to(`#/robot/${robot}`, `SHOW ${robotName(phone.ctx, robot)}`, "main") : phone.to("#/me/more", "OTHER WORK", "main");
}

/** Begins closing a robot up and opens its sheet. @param {Phone} phone @param {string} robot */
export async function closeUp(phone, robot) {
  const answer = await phone.acts.ask({ do: "robot.close-up", with: { robot }, says: `closing up ${robotName(phone.ctx, robot)}` });
  if (!answer.refusal) toSheet(phone, robot);
}

/** Opens the sheet that is due first on a robot. @param {Phone} phone @param {string} robot */
export function toSheet(phone, robot) {
  const due = openSheets(phone.ctx, robot).find((h) => h.list !== "load-in");
  if (!phone.gone) phone.ctx.go(due ? `#/sheet/${due.id}` : "#/me");
}

/** What a command that waits on this device has made of its job. @type {Record<string, import("../core/wire.d.ts").JobState>} */
const made = { "job.start": "running", "job.resume": "running", "job.hold": "held", "job.finish": "finished" };

/**
 * A job's state as this device knows it: my next move is worked out a moment later
 * than the job changes, and what waits here the board does not know at all.
 * @param {Phone} phone
 * @param {Job} job
 */
const stateOf = (phone, job) => phone.ctx.live.waiting.filter((w) => w.do in made && w.with.job === job.id).reduce((state, w) => made[w.do] ?? state, job.state);

/** What can be done with a job now: start, take up again, end. @param {Phone} phone @param {string} id */
export function workButton(phone, id) {
  const job = phone.board.get(`job/${id}`);
  switch (job && stateOf(phone, job)) {
    case "open": return jobButton(phone, "job.start", id, "START", `started ${job?.number}`);
    case "held": return jobButton(phone, "job.resume", id, "RESUME", `took up ${job?.number}`);
    case "running": return jobButton(phone, "job.finish", id, "DONE", `done with ${job?.number}`);
  }
  if (phone.waits("job.finish", id)) return jobButton(phone, "job.finish", id, "DONE", "");
  return phone.to("#/me/more", "OTHER WORK", "main");
}

/** My tag off this robot, or my hands away from it. @param {Phone} phone @param {string} robot */
function offButton(phone, robot) {
  const tag = phone.board.all("tag").find((t) => t.robot === robot && t.person === phone.me);
  const near = phone.board.all("hands").find((n) => n.robot === robot && n.person === phone.me);
  if (tag) return untagButton(phone, tag, "main");
  return near ? unhandsButton(phone, near, "main") : phone.to("#/me/more", "OTHER WORK", "main");
}

// The buttons for a person's own tag, hands and jobs.

/**
 * @param {Phone} phone
 * @param {"job.start" | "job.resume" | "job.finish"} what
 * @param {string} job
 * @param {string} words
 * @param {string} says
 */
function jobButton(phone, what, job, words, says) {
  const waits = phone.waits(what, job);
  return tap({ key: what + job, class: "main", words: waits ? "NOT SENT YET" : words, off: waits, act: () => phone.acts.ask({ do: what, with: { job }, says, undo: true }) });
}

/** Puts my own tag on; minors and guests mark hands near. @param {Phone} phone @param {string} robot @param {string} [cls] */
export function tagButton(phone, robot, cls = "") {
  const name = robotName(phone.ctx, robot);
  if (phone.nearOnly) return handsButton(phone, robot, cls);
  const waits = phone.waits("tag.on", robot);
  const words = waits ? "MY TAG: NOT SENT YET" : cls ? "PUT MY TAG ON" : "put my tag on";
  return tap({ key: `tag${robot}`, class: cls, words: `${words} · ${name}`, off: waits, act: () => phone.acts.ask({ do: "tag.on", with: { robot }, says: `my tag is on ${name}` }) });
}

/** @param {Phone} phone @param {string} robot @param {string} [cls] */
export function handsButton(phone, robot, cls = "") {
  const name = robotName(phone.ctx, robot);
  const waits = phone.waits("hands.on", robot);
  const words = waits ? "hands near: not sent yet" : "my hands are near";
  return tap({ key: `hands${robot}`, class: cls, words: `${cls ? words.toUpperCase() : words} · ${name}`, off: waits, act: () => phone.acts.ask({ do: "hands.on", with: { robot }, says: `my hands are near ${name}` }) });
}

/** Takes my own tag off, by a hold. @param {Phone} phone @param {import("../core/wire.d.ts").Tag} tag @param {string} [cls] */
export function untagButton(phone, tag, cls = "") {
  const robot = robotName(phone.ctx, tag.robot);
  return hold({ key: tag.id, class: cls, robot, words: `${cls ? "TAKE MY TAG OFF" : "take my tag off"} ${robot}`, act: () => phone.acts.ask({ do: "tag.off", with: { tag: tag.id }, seen: sawOf(phone.ctx, `tag/${tag.id}`), says: `my tag is off ${robot}` }) });
}

/** @param {Phone} phone @param {import("../core/wire.d.ts").Hands} near @param {string} [cls] */
export function unhandsButton(phone, near, cls = "") {
  const robot = robotName(phone.ctx, near.robot);
  return hold({ key: near.id, class: cls, robot, words: `${cls ? "MY HANDS ARE AWAY FROM" : "my hands are away from"} ${robot}`, act: () => phone.acts.ask({ do: "hands.off", with: { hands: near.id }, seen: sawOf(phone.ctx, `hands/${near.id}`), says: `my hands are away from ${robot}` }) });
}

/** @param {Phone} phone */
function troublePage(phone) {
  const robot = phone.about;
  if (!robot) {
    return phone.frame(undefined, "Trouble with which robot?", div({ class: "choices" }, robots(phone.ctx).map((r) => phone.to(`#/me/trouble/${r.id}`, robotName(phone.ctx, r.id), "choice"))), phone.to("#/me", "BACK", "main"));
  }
  const job = phone.todo?.robot === robot && phone.todo.job ? phone.board.get(`job/${phone.todo.job}`) : undefined;
  return phone.frame(
    robot,
    "What is the trouble?",
    div({ class: "stack" },
      phone.to(`#/damage/${robot}`, "something is damaged"),
      phone.board.all("tag").some((t) => t.robot === robot && t.person === phone.me) ? phone.to(`#/me/handover/${robot}`, "I hand over to someone") : null,
      job?.state === "running" ? holdWhys.map((why) => holdButton(phone, job, why)) : null,
      phone.to(`#/me/doubt/${robot}`, "its power is not as the board says")),
    phone.to("#/me", "BACK", "main"),
  );
}

/** @param {Phone} phone @param {Job} job @param {typeof holdWhys[number]} why */
function holdButton(phone, job, why) {
  const act = async () => {
    const text = (phone.typed.hold ?? "").trim();
    const answer = await phone.acts.ask({ do: "job.hold", with: { job: job.id, why, ...(text ? { text } : {}) }, says: `held ${job.number}: ${holdWords[why]}`, undo: true });
    if (!answer.refusal) leavePage(phone);
  };
  return tap({ key: why, words: `hold ${job.number}: ${holdWords[why]}`, act });
}

/** Goes back to my next move and keeps the undo in sight, if its person is still here. @param {Phone} phone */
function leavePage(phone) {
  if (phone.gone) return;
  phone.page = "";
  phone.typed = {};
  history.replaceState(null, "", "#/me");
  phone.screen.redraw();
}

/** @param {Phone} phone */
function holdPage(phone) {
  const job = phone.board.get(`job/${phone.about}`);
  if (!job) return nextPage(phone);
  return phone.frame(
    job.robot,
    `Hold ${job.number} ${job.name}: why?`,
    div({ class: "stack" }, phone.field("hold", "a few words, if you like"), holdWhys.map((why) => holdButton(phone, job, why))),
    phone.to("#/me", "BACK", "main"),
  );
}

/** @param {Phone} phone */
function doubtPage(phone) {
  const robot = phone.about;
  const why = (phone.typed.doubt ?? "").trim();
  const name = robotName(phone.ctx, robot);
  const act = async () => {
    const answer = await phone.acts.ask({ do: "robot.doubt", with: { robot, why }, says: `${name} is unknown` });
    if (!answer.refusal) leavePage(phone);
  };
  return phone.frame(
    robot,
    `${name} is not as the board says`,
    [p({ class: "lead" }, "The board then treats it as live. Everyone keeps hands out until it has been made safe anew. Shout, too."), phone.field("doubt", "what you saw")],
    [div({ class: "row" }, phone.to("#/me", "back")), div({ class: "gap" }), tap({ class: "main", words: `SET ${name.toUpperCase()} UNKNOWN`, off: !why, act })],
  );
}

/** Shown while a page's module is fetched. @param {Phone} phone */
const fetchPage = (phone) => phone.frame(undefined, "One moment", p({ class: "lead" }, "This page comes as soon as the board can be reached."), phone.to("#/me", "MY NEXT MOVE", "main"));

/** @type {Record<string, (phone: Phone) => Node>} */
const pages = { trouble: troublePage, hold: holdPage, doubt: doubtPage };

const more = async () => Object.assign(pages, (await import("./more.js")).pages);
const absent = async () => Object.assign(pages, (await import("./absent.js")).pages);
const safety = async () => Object.assign(pages, (await import("./safety.js")).pages);
const packs = async () => Object.assign(pages, (await import("../pack/pack.js")).pages);
const hands = async () => Object.assign(pages, (await import("./hands.js")).pages);
const power = async () => Object.assign(pages, (await import("./power.js")).pages);

/** Pages that are fetched when they are first asked for. @type {Record<string, () => Promise<unknown>>} */
const later = {
  more, robot: more, job: more, place: more, order: more, notes: more,
  handover: hands, "pin-tag-on": hands, "pin-tag": hands, "pin-hands": hands,
  test: power, testing: power,
  notice: absent, "absent-tag": absent, "absent-hands": absent,
  alarms: safety, shelve: safety, emergency: safety, over: safety, stop: safety,
  packs, pack: packs, read: packs, move: packs, charge: packs,
};

/** Fetches what may be asked for when the network is gone. */
export const ahead = () => Promise.all([more(), absent(), safety(), packs(), hands(), power()]);

/** Shows my next move, or a page behind it; "robot" is one of them. @type {import("../core/wire.d.ts").Mount} */
export function mount(root, ctx, name = "me", ...path) {
  const phone = new Phone(root, ctx, name === "robot" ? ["robot", ...path] : path);
  return () => {
    phone.gone = true;
    phone.acts.stop();
    phone.screen.end();
  };
}
