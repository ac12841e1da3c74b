// Clock: the server's time on this device, and the elements that show it. Every
// element owns one text node and writes it only when it changes.

const SAMPLES = 8;
/** By how much two clocks may drift apart over the samples; more, and one of them was set. */
const DRIFT_MS = 250;
const MINUTE = 60_000;

export class Clock {
  /** How far the best sample can be off, in milliseconds; Infinity before the first. */
  errorMs = Infinity;
  /** The event's time in minutes east of UTC. */
  offsetMin = 0;

  /** @type {{offset: number, delay: number}[]} */
  #samples = [];
  #offset = Date.now() - performance.now();
  /** @type {Set<() => void>} */
  #ticking = new Set();
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  #timer;
  #awake = () => this.#tick();

  constructor() {
    document.addEventListener("visibilitychange", this.#awake);
  }

  /** The server's time, in milliseconds since 1970. */
  now() {
    return performance.now() + this.#offset;
  }

  /** The server's time as it stands on the wire. */
  wire() {
    return new Date(this.now()).toISOString();
  }

  /**
   * Takes in one question of the time: when it left and came back by
   * performance.now, and the server's own two times.
   * @param {number} left
   * @param {string} got
   * @param {string} sent
   * @param {number} back
   */
  sample(left, got, sent, back) {
    const t2 = Date.parse(got);
    const t3 = Date.parse(sent);
    const last = { offset: (t2 - left + (t3 - back)) / 2, delay: back - left - (t3 - t2) };
    const agrees = (/** @type {typeof last} */ s) => Math.abs(s.offset - last.offset) <= (s.delay + last.delay) / 2 + DRIFT_MS;
    this.#samples = [...this.#samples.filter(agrees), last].slice(-SAMPLES);
    const best = this.#samples.reduce((least, s) => (s.delay < least.delay ? s : least));
    this.#offset = best.offset;
    this.errorMs = best.delay / 2;
  }

  /** A first guess from a message that says the server's time. @param {string} now */
  hint(now) {
    if (this.#samples.length === 0) this.#offset = Date.parse(now) - performance.now();
  }

  /**
   * The captain moved the board's time by so much: what was learned of it before goes along.
   * @param {number} ms
   */
  moved(ms) {
    for (const s of this.#samples) s.offset += ms;
    this.#offset += this.#samples.length ? ms : 0;
  }

  /**
   * The device's clock went on by so much more than performance.now. It slept, as a rule,
   * and its clock counted that: until the server says, this one is taken to have stood. A
   * clock that went back was set by someone, and says nothing.
   * @param {number} ms
   */
  jumped(ms) {
    this.#samples = [];
    this.errorMs = Infinity;
    this.#offset += Math.max(0, ms);
  }

  /**
   * Calls fn now and at every whole second of the server while the page is seen.
   * @param {() => void} fn
   * @returns {() => void} stops it
   */
  each(fn) {
    this.#ticking.add(fn);
    fn();
    if (this.#timer === undefined) this.#arm();
    return () => this.#ticking.delete(fn);
  }

  /** A moment as the event's time of day: "14:02". @param {string | number | undefined} moment */
  hhmm(moment) {
    return this.#day(moment, 16);
  }

  /** The same with seconds. @param {string | number} moment */
  hhmmss(moment) {
    return this.#day(moment, 19);
  }

  /** @param {string | number | undefined} moment @param {number} until */
  #day(moment, until) {
    if (moment === undefined || moment === "") return "";
    const ms = typeof moment === "number" ? moment : Date.parse(moment);
    return new Date(ms + this.offsetMin * MINUTE).toISOString().slice(11, until);
  }

  /** Waits for the next whole second. */
  #arm() {
    clearTimeout(this.#timer);
    const counts = !document.hidden && this.#ticking.size > 0;
    this.#timer = counts ? setTimeout(() => this.#tick(), 1000 - (this.now() % 1000) + 5) : undefined;
  }

  /** It is armed before anything runs: an element that comes into a page that is drawn in a tick starts no other. */
  #tick() {
    this.#arm();
    if (this.#timer !== undefined) for (const fn of [...this.#ticking]) fn();
  }
}

/** The one clock of the page: the elements below have no other way to it. */
export const clock = new Clock();

/**
 * Time left, in words: whole minutes above 10 min, m:ss below, "3 min late" past it.
 * @param {number} ms
 */
export function leftWords(ms) {
  if (ms <= -MINUTE) return `${wholeMinutes(-ms / 1000, "left")} min late`;
  return ms <= 0 ? "now" : minuteWords(ms / 1000, "left");
}

/** How much time is left when its seconds matter, in seconds. */
const SECONDS_BELOW = 600;

/**
 * Whole minutes as people read them: of work those that it takes, of time left those that are there.
 * @param {number} sec @param {"work" | "left"} what
 */
export const wholeMinutes = (sec, what) => (what === "work" ? Math.ceil(sec / 60) : Math.floor(sec / 60));

/**
 * A length of time in words, as the board says it too: "12 min"; time left of ten minutes or less with its seconds, "1:06".
 * @param {number} sec @param {"work" | "left"} what
 */
export function minuteWords(sec, what) {
  const whole = Math.floor(sec);
  if (what === "work" || whole > SECONDS_BELOW) return `${wholeMinutes(what === "work" ? sec : whole, what)} min`;
  return `${wholeMinutes(whole, what)}:${String(whole % 60).padStart(2, "0")}`;
}

/** Time gone, in words. @param {number} ms */
export function agoWords(ms) {
  const min = wholeMinutes(ms / 1000, "left");
  if (min < 1) return "under 1 min";
  if (min < 120) return `${min} min`;
  return `${Math.floor(min / 60)} h ${min % 60} min`;
}

/** @param {number} ms */
function ageWords(ms) {
  const sec = Math.max(0, Math.floor(ms / 1000));
  return sec < 120 ? `board ${sec} s old` : `board ${Math.floor(sec / 60)} min old`;
}

/** An element that shows a time and keeps it true. */
class Shown extends HTMLElement {
  static observedAttributes = ["until", "since", "bare"];
  #text = document.createTextNode("");
  /** @type {(() => void) | undefined} */
  #stop;

  connectedCallback() {
    if (!this.#text.parentNode) this.append(this.#text);
    this.#stop = clock.each(() => this.show());
  }

  disconnectedCallback() {
    this.#stop?.();
  }

  attributeChangedCallback() {
    if (this.isConnected) this.show();
  }

  show() {
    const words = this.words();
    if (this.#text.data !== words) this.#text.data = words;
  }

  /** @returns {string} */
  words() {
    return "";
  }

  /** @param {string} name @param {string | null} value */
  mark(name, value) {
    if (value === null) this.removeAttribute(name);
    else if (this.getAttribute(name) !== value) this.setAttribute(name, value);
  }
}

/** <pit-left until="…">; with "bare" the unit is left out above 10 min. */
class Left extends Shown {
  connectedCallback() {
    this.setAttribute("role", "timer");
    super.connectedCallback();
  }

  words() {
    const until = this.getAttribute("until");
    if (!until) return "–";
    const ms = Date.parse(until) - clock.now();
    this.mark("data-past", ms <= 0 ? "" : null);
    this.mark("data-sec", ms > 0 && ms <= 10 * MINUTE ? "" : null);
    const words = leftWords(ms);
    return this.hasAttribute("bare") ? words.replace(/ min$/, "") : words;
  }
}

/** <pit-ago since="…">: "12 min". */
class Ago extends Shown {
  words() {
    const since = this.getAttribute("since");
    return since ? agoWords(clock.now() - Date.parse(since)) : "";
  }
}

/** <pit-clock>: the event's time of day. */
class Hour extends Shown {
  words() {
    return clock.hhmmss(clock.now());
  }
}

/** When this page last heard the server, by performance.now and by the device. */
const heard = { by: performance.now(), at: Date.now() };

/** Notes that the server has just been heard. */
export function hear() {
  heard.by = performance.now();
  heard.at = Date.now();
}

/** How long ago the server was heard, in milliseconds; sleep counts. */
export const silence = () => Math.max(performance.now() - heard.by, Date.now() - heard.at);

/** <pit-age>: how old the board on this screen is, with bare without the word; data-old from 5 s. */
class Age extends Shown {
  words() {
    const ms = silence();
    this.mark("data-old", ms >= 5000 ? "" : null);
    return this.hasAttribute("bare") ? ageWords(ms).replace("board ", "") : ageWords(ms);
  }
}

customElements.define("pit-left", Left);
customElements.define("pit-ago", Ago);
customElements.define("pit-clock", Hour);
customElements.define("pit-age", Age);
