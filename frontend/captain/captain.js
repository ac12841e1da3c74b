// Captain: the robots with their jobs, and one of the lists beside them. A form opens
// beside what it changes, in the place of the other.

import { a, age, div, h1, header, nav, section, span, tap } from "../core/tags.js";
import { Form } from "./forms.js";
import { packKind, personKind, setUpKinds, stockKind } from "./kinds.js";
import { Acts } from "../core/acts.js";
import { helpView } from "../core/help.js";
import { screen } from "../core/screen.js";
import { First } from "./first.js";
import { robotsView } from "./robots.js";
import { dayStrip } from "./strip.js";
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
import { TeamFolder } from "./team.js";
import { DayReview } from "./review.js";
import { DayDebrief } from "./debrief.js";
import { Remedies } from "./leaveoff.js";
import { planView } from "./plan.js";
import { alarmList, alarmStrip, askEmergency } from "./alarms.js";

/** @typedef {import("../core/ctx.d.ts").Ctx} Ctx */

/** @typedef {[string, string, (captain: Captain) => import("../core/tags.js").Node]} List */

/** @param {import("./kinds.js").Kind} kind @returns {List} */
const listOf = (kind) => [kind.kind, kind.title, (captain) => listView(captain, kind)];

/** The lists that stand beside the robots on the day. @type {List[]} */
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
  ["team", "folder", (captain) => captain.team.view()],
  ["access", "codes", (captain) => captain.access.view()],
  ["time", "time", (captain) => captain.time.view()],
  ...setUpKinds.map(listOf),
  ["parts", "part map", partsView],
];

const beside = [...day, ...setUp];

const formsFirst = ".form input, .form select, .form textarea, .form .main";

/** The captain's screen and what is open on it. */
export class Captain {
  /** @type {Form | null} */
  form = null;
  /** Where the form stands: beside what it changes. @type {"left" | "right"} */
  formAt = "right";
  /** What is unfolded, by id. */
  openRow = "";
  /** The lists of what is over that are unfolded. @type {Set<string>} */
  unfolded = new Set();
  /** The robot whose work alone is shown, or "". */
  onlyRobot = "";
  /** What the screen is for is shown. */
  helps = false;
  /** The alarms that are not about people are unfolded. */
  alarmsOpen = false;
  /** The button that was pressed last. @type {HTMLElement | null} */
  #pressed = null;
  /** The button that opened the form, and its row's id. @type {HTMLElement | null} */
  #cameFrom = null;
  #cameFromRow = "";

  // The lists that ask the server when they are shown.
  access = new Access(this);
  time = new BoardTime(this);
  team = new TeamFolder(this);
  sheets = new Sheets(this);
  review = new DayReview(this);
  debrief = new DayDebrief(this);

  /** @param {HTMLElement} root @param {Ctx} ctx @param {string} tab @param {string} about the robot a list is about, by id */
  constructor(root, ctx, tab, about) {
    this.ctx = ctx;
    this.tab = tab;
    this.about = about;
    this.screen = screen(root, ctx, () => this.view());
    this.acts = new Acts(ctx, () => this.screen.redraw());
    this.condition = new Condition(this);
    this.remedies = new Remedies(this);
    this.first = new First(this);
    this.screen.redraw();
  }

  /** Shows another list. @param {string} tab @param {string} about */
  turn(tab, about) {
    this.endLists();
    this.access = new Access(this);
    this.time = new BoardTime(this);
    this.team = new TeamFolder(this);
    this.sheets = new Sheets(this);
    this.review = new DayReview(this);
    this.debrief = new DayDebrief(this);
    Object.assign(this, { tab, about, form: null, openRow: "" });
    this.redraw();
  }

  get board() {
    return this.ctx.board;
  }

  redraw() {
    this.screen.redraw();
  }

  /** Opens a form. @param {import("./forms.js").Ask} ask */
  open(ask) {
    this.show(new Form(ask, this.acts, () => this.show(null)));
  }

  /** Unfolds what has this id, or folds it. @param {string} id */
  unfold(id) {
    this.openRow = this.openRow === id ? "" : id;
    this.redraw();
  }

  /** Shows a form, or none. @param {Form | null} form */
  show(form) {
    if (form && !this.form) {
      this.#cameFrom = this.#pressed;
      this.#cameFromRow = this.#pressed?.closest("[id^=row-]")?.id ?? "";
    }
    if (form) this.formAt = this.#pressed?.closest(".beside") ? "left" : "right";
    this.form = form;
    this.redraw();
    if (form) /** @type {HTMLElement | null} */ (document.querySelector(formsFirst) ?? document.querySelector(".form"))?.focus();
    else this.#back();
  }

  /** The focus goes back to what opened the form, or to the row that this was in. */
  #back() {
    if (this.#cameFrom?.isConnected) this.#cameFrom.focus();
    else /** @type {HTMLElement | null} */ (document.getElementById(this.#cameFromRow)?.querySelector(".row-head"))?.focus();
  }

  view() {
    const shown = beside.find(([id]) => id === this.tab) ?? beside[0];
    const { form } = this;
    const still = form ? true : undefined;
    return div(
      {
        class: `tabbed tab-${shown[0] === this.tab ? this.tab : "robots"}`,
        onClickCapture: (e) => { this.#pressed = /** @type {HTMLElement} */ (e.target).closest("button"); },
      },
      this.headView(shown[0]),
      div({ class: "told", inert: still },
        this.ctx.live.readOnly ? this.access.readOnlyView(this.ctx.live.readOnly) : null,
        this.condition.strip(),
        alarmStrip(this),
        dayStrip(this),
        this.acts.inFull(),
        this.helps
          ? section({ key: "help", class: "help", "aria-label": "help", tabIndex: 0 },
            helpView(shown[0] === this.tab ? this.tab : "captain"))
          : null),
      div({ class: form ? `columns form-${this.formAt}` : "columns" },
        section({ key: "robots", class: "column robots", "aria-label": "robots and jobs", inert: still },
          this.first.view(), robotsView(this)),
        section({ key: shown[0], class: "column beside", "aria-label": shown[1], inert: still }, shown[2](this)),
        form ? this.formView(form) : null),
      div({ class: "slot" }, this.acts.slot()),
    );
  }

  /** @param {Form} form */
  formView(form) {
    const close = (/** @type {KeyboardEvent} */ e) => { if (e.key === "Escape") form.leave(); };
    return div(
      { key: "form", class: "form-place", role: "dialog", "aria-label": form.ask.title, tabIndex: -1, onKeyDown: close },
      form.view(),
    );
  }

  /** @param {string} shown */
  headView(shown) {
    const state = (/** @type {string} */ id) => (this.tab === id ? " here" : shown === id ? " here-wide" : "");
    const tab = (/** @type {string} */ id, /** @type {string} */ words, /** @type {string} */ cls) =>
      tap({ key: id, class: `${cls}${state(id)}`, words, act: () => this.ctx.go(`#/captain/${id}`) });
    const inSetUp = setUp.some(([id]) => id === shown);
    const still = this.form ? true : undefined;
    return header(
      { class: "captain-head" },
      div({ class: "event-name" }, h1(null, this.board.get("event/event")?.name || "Mendline"), copiedLine(this.board), age({}),
        span({ inert: still }, tap({ key: "me", class: "away", words: "my phone", act: () => this.ctx.go("#/me") })),
        tap({ key: "raise", class: "raise", words: "RAISE ALARM", label: "RAISE ALARM: emergency", act: () => askEmergency(this) }),
        span({ inert: still, class: "aways" },
          tap({
            key: "help", class: this.helps ? "here" : "", words: "?", label: "? help",
            act: () => { this.helps = !this.helps; this.redraw(); },
          }),
          tap({ key: "wall", class: "away", words: "wall", act: () => this.ctx.go("#/wall") }),
          a({ key: "paper", class: "press away", href: "/sheet/", "aria-label": "print sheets, tags and the running order" }, "print"))),
      nav({ "aria-label": "lists", inert: still },
        tab("robots", "robots", "narrow"),
        day.map(([id, words]) => tab(id, words, "")),
        tap({ key: "set-up", class: inSetUp ? "here" : "", words: "set up", act: () => this.ctx.go(`#/captain/${setUp[0][0]}`) })),
      inSetUp
        ? nav({ class: "set-up", "aria-label": "set up", inert: still }, setUp.map(([id, words]) => tab(id, words, "")))
        : null,
    );
  }

  endLists() {
    this.access.stop();
    this.review.stop();
    this.debrief.stop();
  }

  end() {
    this.acts.stop();
    this.endLists();
    this.condition.stop();
    this.screen.end();
  }
}

/** Shows the captain's screen with one list beside robots and jobs. @type {import("../core/ctx.d.ts").Mount} */
export function mount(root, ctx, _name, tab = "robots", about = "") {
  const captain = new Captain(root, ctx, tab, about);
  const turn = (/** @type {string} */ _same, other = "robots", of = "") => captain.turn(other, of);
  return Object.assign(() => captain.end(), { turn });
}
