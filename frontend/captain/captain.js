// Captain: robots, jobs, and one of the lists beside them; forms lie over it.

import { a, age, div, h1, header, nav, section, tap } from "../core/tags.js";
import { Form } from "./forms.js";
import { packKind, personKind, setUpKinds, stockKind } from "./kinds.js";
import { Acts } from "../core/acts.js";
import { screen } from "../core/screen.js";
import { robotsView } from "./robots.js";
import { dayStrip } from "./strip.js";
import { jobsView } from "./jobs.js";
import { orderView } from "./order.js";
import { chargeView } from "./charge.js";
import { eventView, listView } from "./lists.js";
import { partsView } from "./parts.js";
import { setupsView } from "./setups.js";
import { Access } from "./access.js";
import { copiedLine } from "./copies.js";
import { Condition } from "./condition.js";
import { Sheets } from "./sheets.js";
import { BoardTime } from "./time.js";
import { DayReview } from "./review.js";
import { DayDebrief } from "./debrief.js";
import { Remedies } from "./leaveoff.js";
import { planView } from "./plan.js";
import { alarmList, alarmStrip, askEmergency } from "./alarms.js";

/** @typedef {import("../core/ctx.d.ts").Ctx} Ctx */

/** @typedef {[string, string, (captain: Captain) => import("../core/tags.js").Node]} List */

/** @param {import("./kinds.js").Kind} kind @returns {List} */
const listOf = (kind) => [kind.kind, kind.title, (captain) => listView(captain, kind)];

/** The lists that stand beside robots and jobs on the day. @type {List[]} */
const day = [
  ["order", "order", orderView],
  ["plan", "plan", planView],
  ["alarms", "alarms", alarmList],
  listOf(personKind),
  listOf(packKind),
  ["charging", "charging", chargeView],
  listOf(stockKind),
  ["setups", "setups", setupsView],
  ["sheets", "sheets", (captain) => captain.sheets.view()],
  ["review", "review", (captain) => captain.review.view()],
  ["debrief", "debrief", (captain) => captain.debrief.view()],
];

/** The lists that are made before the day: in a row of their own while one is shown. @type {List[]} */
const setUp = [
  ["event", "event", eventView],
  ["access", "codes", (captain) => captain.access.view()],
  ["time", "time", (captain) => captain.time.view()],
  ...setUpKinds.map(listOf),
  ["parts", "part map", partsView],
];

const beside = [...day, ...setUp];

/** The captain's screen and what is open on it. */
export class Captain {
  /** @type {Form | null} */
  form = null;
  /** The job whose acts are shown, by id. */
  openJob = "";
  /** The robot whose rarer acts are shown, by id. */
  openRobot = "";
  /** The robot whose work alone is shown, or "". */
  onlyRobot = "";
  /** The alarms that are not about people are unfolded. */
  alarmsOpen = false;
  /** What had the focus before a form opened. @type {HTMLElement | null} */
  #cameFrom = null;

  /** @param {HTMLElement} root @param {Ctx} ctx @param {string} tab @param {string} about the robot a list is about, by id */
  constructor(root, ctx, tab, about) {
    this.ctx = ctx;
    this.tab = tab;
    this.about = about;
    this.screen = screen(root, ctx, () => this.view());
    this.acts = new Acts(ctx, () => this.screen.redraw());
    this.access = new Access(this);
    this.condition = new Condition(this);
    this.time = new BoardTime(this);
    this.sheets = new Sheets(this);
    this.review = new DayReview(this);
    this.debrief = new DayDebrief(this);
    this.remedies = new Remedies(this);
    this.screen.redraw();
  }

  get board() {
    return this.ctx.board;
  }

  redraw() {
    this.screen.redraw();
  }

  /** Opens a form over the screen. @param {import("./forms.js").Ask} ask */
  open(ask) {
    this.show(new Form(ask, this.acts, () => this.show(null)));
  }

  /** Shows a form over the screen, or none. @param {Form | null} form */
  show(form) {
    const opens = form && !this.form;
    if (opens) this.#cameFrom = /** @type {HTMLElement | null} */ (document.activeElement);
    this.form = form;
    this.redraw();
    if (!form) this.#cameFrom?.focus();
    if (form) /** @type {HTMLElement | null} */ (document.querySelector(".form input, .form select"))?.focus();
  }

  view() {
    const shown = beside.find(([id]) => id === this.tab) ?? beside[0];
    return div(
      { class: `tabbed tab-${this.tab}` },
      div({ class: "under", inert: this.form ? true : undefined },
        this.headView(shown[0]),
        this.ctx.live.readOnly ? this.access.readOnlyView(this.ctx.live.readOnly) : null,
        this.condition.strip(),
        alarmStrip(this),
        dayStrip(this),
        this.acts.inFull(),
        div({ class: "columns" },
          section({ class: "column robots", "aria-label": "robots" }, robotsView(this)),
          section({ class: "column jobs", "aria-label": "jobs" }, jobsView(this)),
          section({ class: "column beside", "aria-label": shown[1] }, shown[2](this))),
        div({ class: "slot" }, this.acts.slot())),
      this.form ? this.overView(this.form) : null,
    );
  }

  /** @param {Form} form */
  overView(form) {
    const close = (/** @type {KeyboardEvent} */ e) => { if (e.key === "Escape") form.leave(); };
    return div({ class: "over", role: "dialog", "aria-modal": "true", "aria-label": form.ask.title, onKeyDown: close }, form.view());
  }

  /** @param {string} shown */
  headView(shown) {
    const state = (/** @type {string} */ id) => (this.tab === id ? " here" : shown === id ? " here-wide" : "");
    const tab = (/** @type {string} */ id, /** @type {string} */ words, /** @type {string} */ cls) =>
      tap({ key: id, class: `${cls}${state(id)}`, words, act: () => this.ctx.go(`#/captain/${id}`) });
    const inSetUp = setUp.some(([id]) => id === shown);
    return header(
      { class: "captain-head" },
      div({ class: "event-name" }, h1(null, this.board.get("event/event")?.name || "Mendline"), copiedLine(this.board), age({}),
        tap({ key: "me", class: "away", words: "my phone", act: () => this.ctx.go("#/me") }),
        tap({ key: "raise", class: "raise", words: "RAISE ALARM", label: "RAISE ALARM: emergency", act: () => askEmergency(this) }),
        tap({ key: "wall", class: "away", words: "wall", act: () => this.ctx.go("#/wall") }),
        a({ key: "paper", class: "press away", href: "/sheet/", "aria-label": "print sheets, tags and the running order" }, "print")),
      nav({ "aria-label": "lists" },
        tab("robots", "robots", "narrow"),
        tab("jobs", "jobs", "narrow"),
        day.map(([id, words]) => tab(id, words, "")),
        tap({ key: "set-up", class: inSetUp ? "here" : "", words: "set up", act: () => this.ctx.go(`#/captain/${setUp[0][0]}`) })),
      inSetUp ? nav({ class: "set-up", "aria-label": "set up" }, setUp.map(([id, words]) => tab(id, words, ""))) : null,
    );
  }

  end() {
    this.acts.stop();
    this.access.stop();
    this.debrief.stop();
    this.condition.stop();
    this.screen.end();
  }
}

/** Shows the captain's screen with one list beside robots and jobs. @type {import("../core/ctx.d.ts").Mount} */
export function mount(root, ctx, _name, tab = "robots", about = "") {
  const captain = new Captain(root, ctx, tab, about);
  return () => captain.end();
}
