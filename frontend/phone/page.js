// A page of a phone: its head, its fields and its foot; and the buttons for a
// person's own tag, hands and jobs, which several pages have.

import { Acts, framed } from "../core/acts.js";
import { div, h1, hold, input, label, tap } from "../core/tags.js";
import { atWork } from "../core/words.js";
import { fixOf, openSheets, peopleLine, relaxedLine, robotName, sawOf, screen } from "../core/screen.js";

/** @typedef {import("../core/ctx.d.ts").Ctx} Ctx */
/** @typedef {import("../core/wire.d.ts").Job} Job */
/** @typedef {import("../core/tags.js").Node} Node */

/** One phone's screen: a page and what is typed on it. */
export class Phone {
  /** What is typed on this page, by field. @type {Record<string, string>} */
  typed = {};
  /** The page whose module is being fetched. */
  fetching = "";
  /** Another screen has taken its place. */
  gone = false;

  /**
   * @param {HTMLElement} root
   * @param {Ctx} ctx
   * @param {string[]} path name of the page, what it is about, and whom
   * @param {(phone: Phone) => Node} view
   */
  constructor(root, ctx, path, view) {
    this.ctx = ctx;
    [this.page = "", this.about = "", this.other = ""] = path;
    this.screen = screen(root, ctx, () => view(this));
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

  /** My next move, unless it is being worked out just now: its sheet is over already. */
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

  /** What I have to read before anything else: my tag or hands were taken off. */
  get notice() {
    return this.board.all("notice").find((n) => n.person === this.me && !n.taken);
  }

  /**
   * A page: head, body, buttons at the foot.
   * @param {string | undefined} robot
   * @param {string} title
   * @param {import("../core/tags.js").Children} body
   * @param {import("../core/tags.js").Children} foot
   */
  frame(robot, title, body, foot) {
    const inHead = !robot || title === robotName(this.ctx, robot);
    return framed(this.acts, {
      key: `${this.page} ${this.about} ${this.other}`,
      robot,
      title: inHead ? title : "",
      middle: [
        ["alarms", "emergency"].includes(this.page) ? null : peopleLine(this.ctx, robot),
        title && !inHead ? h1({ class: "title" }, title) : null,
        body,
        relaxedLine(this.ctx, robot),
      ],
      foot,
    });
  }

  /**
   * A button that goes somewhere; as a main one it is drawn in outline: black does work.
   * @param {string} hash
   * @param {string} words
   * @param {string} [cls]
   */
  to(hash, words, cls = "") {
    return tap({ key: hash, class: cls === "main" ? "main goes" : cls, words, act: () => this.ctx.go(hash) });
  }

  /** A field for a few figures. @param {string} name @param {string} words */
  figures(name, words) {
    const id = name.replace(/\W+/g, "-");
    return div({ class: "text-field" }, label({ for: id }, words),
      input({
        id, type: "text", inputMode: "numeric", autoComplete: "off", value: this.typed[name] ?? "",
        onInput: (e) => this.type(name, e.currentTarget.value),
      }));
  }

  /** A field for a few words. @param {string} name @param {string} words */
  field(name, words) {
    return div({ class: "text-field" }, label({ for: name }, words),
      input({
        id: name, type: "text", autoComplete: "off", value: this.typed[name] ?? "", onInput: (e) => this.type(name, e.currentTarget.value),
      }));
  }
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
const made = { "job.start": "running", "job.resume": "running", "job.join": "running", "job.hold": "held", "job.finish": "finished" };

/**
 * A job's state as this device knows it: my next move is worked out a moment later
 * than the job changes, and what waits here the board does not know at all.
 * @param {Phone} phone
 * @param {Job} job
 */
const stateOf = (phone, job) =>
  phone.ctx.live.waiting.filter((w) => w.do in made && w.with.job === job.id).reduce((state, w) => made[w.do] ?? state, job.state);

/** I am at work on a job, as far as this device knows. @param {Phone} phone @param {Job | undefined} job */
export const isOn = (phone, job) =>
  job !== undefined && (atWork(job).includes(phone.me) || ["job.start", "job.resume"].some((what) => phone.waits(what, job.id)));

/** What can be done with a job now: start, take up again, end. @param {Phone} phone @param {string} id */
export function workButton(phone, id) {
  const job = phone.board.get(`job/${id}`);
  switch (job && stateOf(phone, job)) {
    case "open": return jobButton(phone, "job.start", id, "START", `started ${job?.number}`);
    case "held": return jobButton(phone, "job.resume", id, "RESUME", `resumed ${job?.number}`);
    case "running":
      return isOn(phone, job)
        ? jobButton(phone, "job.finish", id, "DONE", `${job?.number} done`)
        : jobButton(phone, "job.join", id, "I’M ON IT TOO", `on ${job?.number} too`);
  }
  if (phone.waits("job.finish", id)) return jobButton(phone, "job.finish", id, "DONE", "");
  // What comes next is worked out a moment later.
  return phone.acts.justDid ? null : phone.to("#/me/more", "OTHER WORK", "main");
}

/**
 * @param {Phone} phone
 * @param {"job.start" | "job.resume" | "job.join" | "job.finish"} what
 * @param {string} job
 * @param {string} words
 * @param {string} says
 */
function jobButton(phone, what, job, words, says) {
  const waits = phone.waits(what, job);
  return tap({
    key: what + job, class: "main", words: waits ? "NOT SENT YET" : words, off: waits,
    act: () => phone.acts.ask({ do: what, ...(what === "job.start" ? byFix(phone, job) : { with: { job } }), says, undo: true, big: true }),
  });
}

/** A job to be begun by the fix that this page shows, where another one is chosen on the board. @param {Phone} phone @param {string} id */
function byFix(phone, id) {
  const job = phone.board.get(`job/${id}`);
  const fix = job ? fixOf(phone.ctx, job) : 0;
  return fix === 0 || fix === job?.chosen ? { with: { job: id } } : { with: { job: id, fix }, seen: sawOf(phone.ctx, `job/${id}`) };
}

/** Puts my own tag on; minors and guests mark hands near. @param {Phone} phone @param {string} robot @param {string} [cls] */
export function tagButton(phone, robot, cls = "") {
  const name = robotName(phone.ctx, robot);
  if (phone.nearOnly) return handsButton(phone, robot, cls);
  const waits = phone.waits("tag.on", robot);
  const words = waits ? "MY TAG: NOT SENT YET" : cls ? "PUT MY TAG ON" : "put my tag on";
  return tap({
    key: `tag${robot}`, class: cls, words: `${words} · ${name}`, off: waits,
    act: () => phone.acts.ask({ do: "tag.on", with: { robot }, says: `my tag is on ${name}` }),
  });
}

/** @param {Phone} phone @param {string} robot @param {string} [cls] */
export function handsButton(phone, robot, cls = "") {
  const name = robotName(phone.ctx, robot);
  const waits = phone.waits("hands.on", robot);
  const words = waits ? "hands near: not sent yet" : "my hands are near";
  return tap({
    key: `hands${robot}`, class: cls, words: `${cls ? words.toUpperCase() : words} · ${name}`, off: waits,
    act: () => phone.acts.ask({ do: "hands.on", with: { robot }, says: `my hands are near ${name}` }),
  });
}

/** Takes my own tag off, by a hold. @param {Phone} phone @param {import("../core/wire.d.ts").Tag} tag @param {string} [cls] */
export function untagButton(phone, tag, cls = "") {
  const robot = robotName(phone.ctx, tag.robot);
  return hold({
    key: tag.id, class: cls, robot, words: `${cls ? "TAKE MY TAG OFF" : "take my tag off"} ${robot}`,
    act: () =>
      phone.acts.ask({
        do: "tag.off", with: { tag: tag.id }, seen: sawOf(phone.ctx, `tag/${tag.id}`), says: `my tag is off ${robot}`,
        asked: `my tag off ${robot}`,
      }),
  });
}

/** @param {Phone} phone @param {import("../core/wire.d.ts").Hands} near @param {string} [cls] */
export function unhandsButton(phone, near, cls = "") {
  const robot = robotName(phone.ctx, near.robot);
  return hold({
    key: near.id, class: cls, robot, words: `${cls ? "MY HANDS ARE AWAY FROM" : "my hands are away from"} ${robot}`,
    act: () => phone.acts.ask({
      do: "hands.off", with: { hands: near.id }, seen: sawOf(phone.ctx, `hands/${near.id}`), says: `my hands are away from ${robot}`,
      asked: `my hands away from ${robot}`,
    }),
  });
}
