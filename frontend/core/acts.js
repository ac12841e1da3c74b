// Acts: what was asked of the board and how it went, and the frame of a phone's page,
// which has a place for it.

import { Component, REST_MS, b, div, h, h2, li, p, rule, section, span, tap, ul } from "./tags.js";
import { commandWords, count, nameOf, powerLine } from "./words.js";
import { robotHead, robotName } from "./screen.js";

/** @typedef {import("./ctx.d.ts").Ctx} Ctx */
/** @typedef {import("./wire.d.ts").Commands} Commands */
/** @typedef {import("./wire.d.ts").Refusal} Refusal */
/** @typedef {import("./queue.js").Outcome} Outcome */

/**
 * @template {keyof Commands} D
 * @typedef {object} Deed
 * @property {D} do
 * @property {Commands[D]} with
 * @property {Record<string, number>} [seen]
 * @property {{person: string, pin: string}[]} [pins]
 * @property {Blob} [photo] stored before the command goes
 * @property {string} says what it is called once done: "started 41"
 * @property {string} [asked] what it is called when it is not done, where that must not sound like the deed: "my tag off Hob"
 * @property {boolean} [undo] it can be taken back
 * @property {string[]} [before] the commands it follows on and that are taken back with it, the last first
 * @property {number} [undoMs] how long the undo stands, if longer than for a tap
 * @property {boolean} [big] asked at a page's main button, whose place then takes it back
 * @property {boolean} [quiet] a refusal is shown by the caller
 */

const UNDO_MS = 8000;
const SECOND_MS = 1000;

/**
 * What was done, shown until then by performance.now; id is of the command that can be
 * taken back, or ""; at is the page whose main button did it, or "".
 * @typedef {{says: string, id: string, before: string[], until: number, at: string}} Done
 */

/**
 * How the last act went. It outlives the screen that asked: a refusal stays until
 * it is read, wherever the person has gone meanwhile.
 * @typedef {object} Went
 * @property {{says: string, refusal: Refusal, at: string, deed?: Deed<any>} | null} refused on the page of that hash
 * @property {Done | null} done
 */

/**
 * What was refused, as a page shows it.
 * @typedef {{says: string, refusal: Refusal, at: string, deed?: Deed<any>, here: boolean, read: () => void}} Refused
 */

/** @type {WeakMap<Ctx, Went>} */
const wents = new WeakMap();

/** The acts of one screen. */
export class Acts {
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  #timer;
  /** What is not sent yet is listed. */
  #listed = false;

  /** @param {Ctx} ctx @param {() => void} redraw */
  constructor(ctx, redraw) {
    this.ctx = ctx;
    this.redraw = redraw;
    /** @type {Went} */
    this.went = wents.get(ctx) ?? { refused: null, done: null };
    wents.set(ctx, this.went);
    this.#awaitEnd();
  }

  /** Forgets its timer: the screen is gone. */
  stop() {
    clearTimeout(this.#timer);
    this.redraw = () => {};
  }

  /** Counts down how long what was done is still shown. */
  #awaitEnd() {
    clearTimeout(this.#timer);
    const { done } = this.went;
    if (!done) return;
    this.#timer = setTimeout(() => {
      if (done.until <= performance.now() && this.went.done === done) this.went.done = null;
      this.redraw();
      this.#awaitEnd();
    }, Math.min(done.at ? SECOND_MS : Infinity, Math.max(0, done.until - performance.now())));
  }

  /**
   * Asks the board for one thing and keeps how it went.
   * @template {keyof Commands} D
   * @param {Deed<D>} deed
   * @returns {Promise<Outcome>}
   */
  async ask(deed) {
    this.went.done = null;
    const at = location.hash;
    const { seen, pins, photo } = deed;
    const answer = await this.ctx.live.send(deed.do, deed.with, { seen, pins, photo });
    if (answer.refusal) {
      const again = answer.refusal.field === "sure" && !pins ? deed : undefined; // a PIN is typed anew
      if (!deed.quiet) this.refuse(deed.asked ?? deed.says, answer.refusal, at, again);
    } else {
      this.went.refused = null;
      if (!answer.waits) {
        this.#tell({
          says: deed.says, id: deed.undo ? answer.id : "", before: deed.before ?? [], at: deed.big ? at : "",
          until: performance.now() + (deed.undoMs ?? UNDO_MS),
        });
      }
    }
    this.redraw();
    return answer;
  }

  /**
   * @param {string} says
   * @param {Refusal} refusal
   * @param {string} [at] the page that asked
   * @param {Deed<any>} [deed] what is asked again if it is so
   */
  refuse(says, refusal, at = location.hash, deed = undefined) {
    this.went.refused = { says, refusal, at, deed };
  }

  /** @param {Done} done */
  #tell(done) {
    this.ctx.say(done.says);
    this.went.done = done;
    this.#awaitEnd();
  }

  /**
   * The one line that tells how it went, in a place of its own: what was
   * refused before what can be taken back, before what is not sent yet.
   */
  slot() {
    const refused = this.#refusedNow;
    if (refused) {
      return this.#line("refusal", `Not done: ${refused.says}`,
        refused.here ? this.#readButton(refused) : tap({ key: "why", words: "why?", act: () => this.ctx.go(refused.at) }));
    }
    if (this.went.done && !this.justDid) return this.#doneView();
    const [first, ...others] = this.#waiting;
    if (!first) return null;
    const how = !others.length && first.sent !== undefined ? `: ${sentWords(this.ctx, first)}` : "";
    return this.#line("unsent", `${count(others.length + 1, "thing")} not sent yet${how}`,
      tap({ key: "list", words: this.#listed ? "hide" : "which?", act: () => { this.#listed = !this.#listed; this.redraw(); } }));
  }

  /** What this page's main button has just done, while it can be taken back. */
  get justDid() {
    const { done } = this.went;
    return done?.id && done.at === location.hash ? done : null;
  }

  /** Takes it back, in the place where it was done. */
  undoButton() {
    const done = this.justDid;
    if (!done) return null;
    const left = Math.max(1, Math.ceil((done.until - performance.now()) / SECOND_MS));
    return tap({
      key: `undo ${done.id}`, class: "undo", restMs: REST_MS, words: `✓ ${done.says} · UNDO ${left} s`,
      act: () => this.#takeBack(done.says, [done.id, ...done.before]),
    });
  }

  /** What the slot's line is about, in full: it opens above what the page is about. */
  inFull() {
    const refused = this.#refusedNow;
    if (refused) return refused.here ? openedUp(refused.says, this.#refusedView(refused)) : null;
    return this.#listed && this.#waiting.length && !this.went.done ? openedUp("unsent", this.#waitingView()) : null;
  }

  /** @param {string} cls @param {string} words @param {import("./tags.js").Children} act */
  #line(cls, words, act) {
    return div({ key: cls, class: `line ${cls}` }, span(null, words), act);
  }

  /** What was refused last, here or of what waited on this device. */
  get #refusedNow() {
    const [late] = this.ctx.live.refused;
    return this.#refusal(this.went.refused)
      ?? (late ? { says: late.words, refusal: late.refusal, at: "", here: true, read: () => this.ctx.live.dismiss(late.id) } : null);
  }

  /** @param {Went["refused"]} refused @returns {Refused | null} */
  #refusal(refused) {
    return refused && {
      ...refused, here: refused.at === location.hash, read: () => { this.went.refused = null; this.redraw(); },
    };
  }

  /** @param {Refused} refused */
  #readButton(refused) {
    return tap({ key: "read", words: "I have read it", act: refused.read });
  }

  /** @param {Refused} refused */
  #refusedView({ says, refusal, deed, read }) {
    return section(
      { key: "refused", class: "refused", role: "status" },
      h2(null, `Not done: ${says}`),
      p(null, refusal.sentence),
      refusal.now ? p(null, b(null, `Now: ${nowWords(this.ctx, refusal.now)}`)) : null,
      deed
        ? tap({
          key: "sure", restMs: REST_MS, words: `it is so: ${says}`,
          act: () => { read(); return this.ask({ ...deed, with: { ...deed.with, sure: true } }); },
        })
        : null,
      this.#jobButton(refusal.job ?? "", read),
      rule(refusal),
    );
  }

  /** To the job that a refusal is about; on a finished one stands what it owes. @param {string} id @param {() => void} read */
  #jobButton(id, read) {
    const job = this.ctx.board.get(`job/${id}`);
    if (!job || location.hash.startsWith("#/captain") || location.hash === `#/me/job/${id}`) return null;
    return tap({
      key: "job", words: job.state === "finished" ? `what job ${job.number} owes` : `job ${job.number}`,
      act: () => { read(); this.ctx.go(`#/me/job/${id}`); },
    });
  }

  #doneView() {
    const { done } = this.went;
    if (!done) return null;
    return div(
      { key: "done", class: done.id ? "done undoable" : "done" },
      span(null, done.says),
      done.id ? tap({ words: "undo", act: () => this.#takeBack(done.says, [done.id, ...done.before]) }) : null,
    );
  }

  /** @param {string} says @param {string[]} ids */
  async #takeBack(says, ids) {
    for (const command of ids) {
      const answer = await this.ask({ do: "undo", with: { command }, says: `took back: ${says}` });
      if (answer.refusal) return;
    }
  }

  /** An emergency that waits stands above every screen. */
  get #waiting() {
    return this.ctx.live.waiting.filter((w) => w.do !== "emergency.raise");
  }

  #waitingView() {
    const waiting = this.#waiting;
    return section(
      { key: "waiting", class: "waiting" },
      h2(null, `${count(waiting.length, "thing")} not sent yet`),
      ul(null, waiting.map((w) => li({ key: w.id }, sentWords(this.ctx, w)))),
    );
  }
}

/** A command that waits, and how much of its photo is sent. @param {Ctx} ctx @param {import("./queue.js").Waiting} w */
const sentWords = (ctx, w) => commandWords(ctx.board, w.do, w.with) + (w.sent === undefined ? "" : `: ${w.sent} % sent`);

/**
 * Shown at the head of a page's middle, which goes there for it and back after it.
 * @extends {Component<{children?: import("./tags.js").Children}>}
 */
class OpenedUp extends Component {
  /** @type {HTMLElement | null} */
  place = null;
  was = 0;

  get middle() {
    return this.place?.closest(".middle");
  }

  componentDidMount() {
    this.was = this.middle?.scrollTop ?? 0;
    this.middle?.scrollTo(0, 0);
  }

  componentWillUnmount() {
    this.middle?.scrollTo(0, this.was);
  }

  render() {
    return h("div", { class: "opened", ref: (/** @type {any} */ el) => { this.place = el ?? this.place; } }, this.props.children);
  }
}

/** @param {string} key @param {import("./tags.js").Node} view */
const openedUp = (key, view) => h(OpenedUp, { key }, view);

/**
 * A phone's page: its head, a middle that scrolls, one line that tells how the last act
 * went, and the foot with what can be done.
 * @param {Acts} acts
 * @param {object} page
 * @param {string} [page.cls]
 * @param {string} page.key another page begins at its top
 * @param {string} [page.robot]
 * @param {string} [page.title] in the head
 * @param {import("./tags.js").Children} page.middle
 * @param {import("./tags.js").Children} page.foot
 */
export function framed(acts, { cls = "", key, robot, title, middle, foot }) {
  const { ctx } = acts;
  return div(
    { class: `phone ${cls}`.trim() },
    robotHead(ctx, robot, title),
    div({ class: "middle", key: `middle ${key}`, tabIndex: 0 }, ctx.notices(), acts.inFull(), middle),
    div({ class: "slot" }, acts.slot()),
    // As the place to take back comes and goes, what is pressed moves: it rests then.
    div({ class: "foot", key: `foot ${key} ${acts.justDid ? "undo" : ""}` }, foot, acts.undoButton()),
  );
}

/** What stands on the board now where someone else was faster. @param {Ctx} ctx @param {string} key */
function nowWords(ctx, key) {
  const [kind, id = ""] = key.split("/");
  const noun = /** @type {any} */ (ctx.board.get(/** @type {any} */ (key)));
  switch (kind) {
    case "power": return `${robotName(ctx, id)} ${powerLine(ctx, id)}`;
    case "tag": return noun ? `${nameOf(ctx.board, noun.person)}’s tag is on` : "that tag is off";
    case "hands": return noun ? `${nameOf(ctx.board, noun.person)}’s hands are near` : "those hands are away";
    case "circuit": return noun?.offAt ? `${noun.name} is off since ${ctx.clock.hhmm(noun.offAt)}` : `${noun?.name ?? "the circuit"} is on`;
    case "sheet":
      return noun?.answers?.length
        ? `${nameOf(ctx.board, noun.answers[noun.answers.length - 1].by)} answered a line of this sheet`
        : "the sheet has changed";
  }
  return "see the board";
}
