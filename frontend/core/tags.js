// Tags: thin helpers over Preact's h(), and the two buttons of the board. tap acts
// when it is released inside; hold acts after 800 ms of pressing, and names the
// robot it acts on. A button that has just come up rests. rule opens what a refusal's
// rule says.

import { h, Component, Fragment, render } from "../vendor/preact.mjs";

export { h, Component, Fragment, render };

/** @typedef {import("preact").JSX.IntrinsicElements} Elements */
/** @typedef {import("preact").ComponentChildren} Children */
/** @typedef {import("preact").VNode<any>} Node */
/** @typedef {import("./wire.d.ts").Refusal} Refusal */

/**
 * @template {keyof Elements} K
 * @param {K} name
 * @returns {(props?: Elements[K] | null, ...children: Children[]) => Node}
 */
function tag(name) {
  return (props, ...children) => h(/** @type {string} */ (name), /** @type {any} */ (props ?? null), ...children);
}

export const div = tag("div");
export const span = tag("span");
export const p = tag("p");
export const b = tag("b");
export const h1 = tag("h1");
export const h2 = tag("h2");
export const h3 = tag("h3");
export const ul = tag("ul");
export const ol = tag("ol");
export const li = tag("li");
export const dl = tag("dl");
export const dt = tag("dt");
export const dd = tag("dd");
export const a = tag("a");
export const img = tag("img");
export const form = tag("form");
export const label = tag("label");
export const input = tag("input");
export const textarea = tag("textarea");
export const select = tag("select");
export const option = tag("option");
export const button = tag("button");
export const fieldset = tag("fieldset");
export const legend = tag("legend");
export const section = tag("section");
export const header = tag("header");
export const footer = tag("footer");
export const nav = tag("nav");
export const table = tag("table");
export const thead = tag("thead");
export const tbody = tag("tbody");
export const tr = tag("tr");
export const th = tag("th");
export const td = tag("td");
export const dialog = tag("dialog");
export const details = tag("details");
export const summary = tag("summary");
export const svg = tag("svg");
export const path = tag("path");

/**
 * The rule that speaks in a refusal, with what it says folded below. Opening it leaves
 * the screen, and what was typed on it, as they are.
 * @param {Refusal} [refusal]
 */
export const rule = (refusal) => refusal?.rule
  ? details({ class: "rule" },
    summary(null, `rule ${refusal.rule}`),
    p(null, refusal.ruleSays),
    a({ href: `/rules#${refusal.rule}`, target: "_blank" }, "all rules"))
  : null;

/**
 * @param {string} name
 * @returns {(props: Record<string, string | undefined>) => Node}
 */
const clock = (name) => (props) => h(name, /** @type {any} */ (props));

/** Time left until a moment: {until}. See clock.js. */
export const left = clock("pit-left");
/** Time gone since a moment: {since}. */
export const ago = clock("pit-ago");
/** How old the board on this screen is. */
export const age = clock("pit-age");
/** The event's time of day. */
export const hourNow = clock("pit-clock");

/**
 * @typedef {object} ButtonProps
 * @property {string} words what the button says
 * @property {() => unknown} act what it does; while a promise it returns is open, the button says "sending"
 * @property {string} [class]
 * @property {boolean} [off] not to be pressed now
 * @property {number} [restMs] how long it rests after it came up; a main button does by itself
 * @property {string} [id]
 * @property {string} [label] what it is called to ears, with its words in it
 * @property {string} [mark] class of a shape before its words
 * @property {string} [figure] a value under its words, the largest thing on it
 */

/** A hold is felt in so many steps, each so long. */
const HOLD_STEPS = 8;
const STEP_MS = 100;

/** How long the buttons of a new page rest. */
export const REST_MS = 700;

/** A finger may roll so far, in CSS pixels, and still hold. */
const ROLL_PX = 24;

/** An event is never so old when it is handled; some browsers count its time from another start. */
const HANDLED_MS = 10_000;

/** When a finger or a key made this event, by performance.now. @param {Event} e */
function madeAt(e) {
  const now = performance.now();
  return Math.abs(now - e.timeStamp) < HANDLED_MS ? e.timeStamp : now;
}

/**
 * A button that rests takes no press, and rests on from it: the second tap of two, and
 * drumming on one spot, hit nothing that came up meanwhile.
 * @extends {Component<ButtonProps, {sending: boolean}>}
 */
class Press extends Component {
  state = { sending: false };
  gone = false;
  wakes = performance.now() + this.restMs;

  componentWillUnmount() {
    this.gone = true;
  }

  get restMs() {
    const { restMs, class: cls = "" } = this.props;
    return restMs ?? (cls.split(" ").includes("main") ? REST_MS : 0);
  }

  /** Whether what a finger or a key does to it now counts. @param {Event} e */
  takes(e) {
    if (this.state.sending || this.props.off) return false;
    const at = madeAt(e);
    if (at >= this.wakes) return true;
    this.wakes = Math.max(this.wakes, at + this.restMs);
    return false;
  }

  async run() {
    const work = this.props.act();
    if (!(work instanceof Promise)) return;
    this.setState({ sending: true });
    try {
      await work;
    } finally {
      this.wakes = performance.now() + this.restMs;
      if (!this.gone) this.setState({ sending: false });
    }
  }

  /** @returns {Node | null} */
  render() {
    return null;
  }

  get words() {
    return this.state.sending ? "sending …" : this.props.words;
  }

  /** Its words and, under them, its figure. */
  get face() {
    const { figure } = this.props;
    return [
      span({ key: "words", class: "words" }, this.words),
      figure && !this.state.sending ? [" ", span({ key: "figure", class: "value" }, figure)] : null,
    ];
  }

  /** @param {string} extra */
  shared(extra) {
    const { off, id, label } = this.props;
    return {
      type: /** @type {const} */ ("button"),
      id,
      "aria-label": label,
      class: `press ${extra} ${this.props.class ?? ""}`.trim(),
      "aria-disabled": off || this.state.sending ? /** @type {const} */ (true) : undefined,
    };
  }
}

class Tap extends Press {
  /** The finger that is down came down on this button, and it counted. */
  began = false;

  /** @param {MouseEvent} e one of a key, or of a screen reader, has no finger and no detail */
  click(e) {
    const counts = e.detail ? this.began : this.takes(e);
    this.began = false;
    if (counts && !this.state.sending && !this.props.off) this.run();
  }

  render() {
    return h(
      "button",
      {
        ...this.shared("tap"),
        onPointerDown: (/** @type {PointerEvent} */ e) => {
          this.began = this.takes(e);
        },
        onClick: (/** @type {MouseEvent} */ e) => this.click(e),
        onKeyDown: (/** @type {KeyboardEvent} */ e) => {
          if (e.repeat && (e.key === "Enter" || e.key === " ")) e.preventDefault();
        },
      },
      this.props.mark ? span(null, span({ class: this.props.mark, "aria-hidden": "true" }), " ", this.words) : this.face,
    );
  }
}

class Hold extends Press {
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  timer;
  /** @type {HTMLElement | null} */
  button = null;
  /** Where the finger came down. @type {{x: number, y: number} | null} */
  from = null;

  componentWillUnmount() {
    super.componentWillUnmount();
    clearTimeout(this.timer);
  }

  /** @param {Event} e */
  begin(e) {
    if (!this.takes(e) || this.timer !== undefined) return;
    this.button?.classList.add("holding");
    this.step(1);
  }

  /**
   * A page that stood still for a while hears first of its timer and then of the finger
   * that rose meanwhile. So no more than a step of such a while counts as held.
   * @param {number} nth
   */
  step(nth) {
    this.timer = setTimeout(() => {
      if (nth < HOLD_STEPS) return this.step(nth + 1);
      this.cancel();
      this.run();
    }, STEP_MS);
  }

  cancel() {
    clearTimeout(this.timer);
    this.timer = undefined;
    this.from = null;
    this.button?.classList.remove("holding");
  }

  /** @param {PointerEvent} e */
  down(e) {
    if (!e.isPrimary || e.button !== 0) return;
    this.begin(e);
    this.from = { x: e.clientX, y: e.clientY };
  }

  /** @param {PointerEvent} e */
  strays(e) {
    if (this.from && Math.hypot(e.clientX - this.from.x, e.clientY - this.from.y) > ROLL_PX) this.cancel();
  }

  /** @param {KeyboardEvent} e */
  key(e) {
    if (e.key === "Enter") e.preventDefault();
    if (e.key !== " ") return;
    e.preventDefault();
    if (!e.repeat) this.begin(e);
  }

  render() {
    return h(
      "button",
      {
        ...this.shared("hold"),
        ref: (/** @type {any} */ el) => {
          this.button = el;
        },
        onPointerDown: (/** @type {PointerEvent} */ e) => this.down(e),
        onPointerUp: () => this.cancel(),
        onPointerCancel: () => this.cancel(),
        onPointerMove: (/** @type {PointerEvent} */ e) => this.strays(e),
        onPointerLeave: () => this.cancel(),
        onBlur: () => this.cancel(),
        onKeyDown: (/** @type {KeyboardEvent} */ e) => this.key(e),
        onKeyUp: () => this.cancel(),
        onContextMenu: (/** @type {Event} */ e) => e.preventDefault(),
      },
      span({ class: "fill", "aria-hidden": "true" }),
      this.face,
      this.state.sending ? null : span({ class: "how" }, "press and hold"),
    );
  }
}

/**
 * A button for an ordinary act.
 * @param {ButtonProps & {key?: string}} props
 * @returns {Node}
 */
export const tap = (props) => h(Tap, props);

/**
 * A button for a dangerous act: it needs 800 ms of pressing, lifting early cancels.
 * On a keyboard the space bar is held. The words must name what it acts on, so
 * `robot` is put behind them.
 * @param {ButtonProps & {robot: string, key?: string}} props
 * @returns {Node}
 */
export const hold = ({ robot, ...props }) =>
  h(Hold, { ...props, words: props.words.toLowerCase().includes(robot.toLowerCase()) ? props.words : `${props.words} · ${robot}` });
