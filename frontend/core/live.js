// Live: the one module that knows of a socket. It keeps the copy of the board and
// the clock true, and carries the commands of queue.js.

import { clock, hear, silence } from "./clock.js";
import { Queue } from "./queue.js";

/** @typedef {import("./wire.d.ts").Do} Do */
/** @typedef {import("./wire.d.ts").Commands} Commands */
/** @typedef {"connecting" | "live" | "lost" | "ended" | "old"} Status */

const PROTOCOL = "mendline.v1";
const CONNECT_MS = 5000;
const WHOLE_MS = 4000;
const SILENT_MS = 6000;
const PROBE_MS = 2000;
const ECHO_MS = 10_000;
const FIRST_ECHOES = 5;
const HEALTHY_MS = 30_000;
const BACKOFF_MS = 500;
const BACKOFF_MOST_MS = 1500;
const JUMP_MS = 2000;
/** The ages of the board, in seconds, at which screens change what they say. */
const AGES = /** @type {const} */ ([60, 20, 5]);

/**
 * Fails where the board cannot be reached. Chromium before 148 never asks again for a
 * module that failed once, so it must not be asked for one without a network.
 */
export const reached = () => fetch("/healthz", { cache: "no-store" });

export class Live {
  /** @type {Status} */
  status = "connecting";
  /**
   * Who this device is; null before the server has said so.
   * @type {{role: import("./wire.d.ts").Role, person: string, name: string} | null}
   */
  me = null;
  /** Its role as the server said it last, perhaps before this page was loaded. @type {import("./wire.d.ts").Role | null} */
  role = /** @type {import("./wire.d.ts").Role | null} */ (localStorage.getItem("role"));
  /** Why the board takes no changes, or "". */
  readOnly = "";
  /** How far the clock of the board's laptop is off the board's time, or "". */
  clockSaid = "";
  /** The board's program changed since this page was loaded. */
  newer = false;
  /** 0, 5, 20 or 60: the board on this screen is at least so many seconds old. @type {0 | 5 | 20 | 60} */
  stale = 0;
  /** The server's time at which it was last heard, in milliseconds. */
  heardAt = 0;
  #board;
  #queue;
  /** @type {WebSocket | null} */
  #socket = null;
  #ready = false;
  /** Kept when the whole board has come, or has not. @type {Promise<void> | null} */
  #whole = null;
  #tries = 0;
  #echoes = 0;
  #page = "";
  #pace = { by: performance.now(), at: Date.now() };
  /** @type {Record<string, ReturnType<typeof setTimeout> | undefined>} */
  #timers = {};
  /** @type {Set<() => void>} */
  #listeners = new Set();
  #off = new AbortController();

  /** @param {import("./board.js").Board} board */
  constructor(board) {
    this.#board = board;
    this.#queue = new Queue(board, {
      open: () => this.status === "live",
      readOnly: () => this.readOnly !== "",
      person: () => this.me?.person ?? "",
      hurry: () => this.#probe(),
      put: (message) => this.#put(message),
      tell: () => this.#tell(),
    });
    const on = { signal: this.#off.signal };
    document.addEventListener("visibilitychange", () => document.hidden || this.#probe(), on);
    addEventListener("pageshow", () => this.#probe(), on);
    addEventListener("online", () => this.#probe(), on);
    this.#off.signal.addEventListener("abort", clock.each(() => this.#second()));
    this.#connect();
  }

  /** The commands not answered yet that wait on this device, in the order in which they go. */
  get waiting() {
    return this.#queue.waiting;
  }

  /** All photos that are not on the board yet. */
  get photos() {
    return this.#queue.photos;
  }

  /**
   * Calls fn when anything but the board changed. The answer stops it.
   * @param {() => void} fn
   * @returns {() => void}
   */
  onStatus(fn) {
    this.#listeners.add(fn);
    return () => this.#listeners.delete(fn);
  }

  /**
   * Gives a command. The promise is kept with what became of it; it never fails.
   * @template {Do} D
   * @param {D} what
   * @param {Commands[D]} fields
   * @param {{seen?: Record<string, number>, at?: string, pins?: {person: string, pin: string}[], photo?: Blob}} [ask]
   *   seen: the revision of each noun that was before the person's eyes
   * @returns {Promise<import("./queue.js").Outcome>}
   */
  send(what, fields, ask = {}) {
    return this.#queue.give(what, fields, ask);
  }

  /** Commands that waited and were refused in the end. */
  get refused() {
    return this.#queue.refused;
  }

  /** Forgets a refusal that the person has read. @param {string} id */
  dismiss(id) {
    this.#queue.dismiss(id);
  }

  /** Connects again, after joining. */
  again() {
    this.#tries = 0;
    this.#connect();
  }

  /** Ends the session on this device. */
  async leave() {
    await fetch("/api/leave", { method: "POST", headers: { "Content-Type": "application/json" }, body: "{}" }).catch(() => null);
    this.#drop();
    this.#ended("ended");
  }

  stop() {
    this.#off.abort();
    this.#drop();
    this.#queue.stop();
    for (const name in this.#timers) clearTimeout(this.#timers[name]);
  }

  // The socket.

  #connect() {
    this.#drop();
    this.#become(this.me ? "lost" : "connecting");
    const socket = new WebSocket(`${location.protocol === "https:" ? "wss" : "ws"}://${location.host}/live`, PROTOCOL);
    this.#socket = socket;
    this.#after("connect", CONNECT_MS, () => this.#retry());
    if (this.role && !this.#board.epoch) this.#whole = this.#fetchWhole();
    socket.onmessage = (e) => this.#socket === socket && this.#hear(JSON.parse(e.data));
    socket.onclose = (e) => this.#socket === socket && this.#closed(e.code);
  }

  /** Asks for the whole board and its forecast beside the socket: so they come compressed. */
  async #fetchWhole() {
    const late = new AbortController();
    const timer = setTimeout(() => late.abort(), WHOLE_MS);
    const asks = (/** @type {string} */ path) =>
      fetch(path, { signal: late.signal }).then((a) => (a.ok ? a.json() : null)).catch(() => null);
    const [whole, forecast] = await Promise.all(["/api/board", "/api/forecast"].map(asks));
    clearTimeout(timer);
    if (!whole || this.#board.epoch) return;
    this.#apply(whole);
    if (forecast) this.#apply(forecast);
  }

  /** Lets go of the socket without waiting for it: a dead one may never say so. */
  #drop() {
    const socket = this.#socket;
    this.#socket = null;
    this.#ready = false;
    this.#queue.drop();
    for (const name of ["connect", "silence", "probe", "echo", "healthy", "retry"]) clearTimeout(this.#timers[name]);
    if (socket) {
      socket.onmessage = socket.onclose = null;
      socket.close();
    }
  }

  /** @param {number} code */
  #closed(code) {
    const never = !this.#ready;
    this.#drop();
    switch (code) {
      case 4001:
        return this.#ended("ended");
      case 4003:
        return this.#ended("old");
      case 4004:
        return this.#connect();
      case 1001:
      case 1012:
        return this.#retry(Math.random() * BACKOFF_MOST_MS);
      case 1013:
        return this.#retry(5000 + Math.random() * 10_000);
    }
    if (never && !this.me) return this.#whoAmI();
    return this.#retry();
  }

  /** A socket that never opened cannot say why: ask whether there is a session. */
  async #whoAmI() {
    const answer = await fetch("/api/me").catch(() => null);
    if (this.#socket || this.#off.signal.aborted) return;
    if (answer?.status === 401) this.#ended("ended");
    else this.#retry();
  }

  /** @param {number} [waitMs] */
  #retry(waitMs) {
    this.#drop();
    this.#become(this.me ? "lost" : "connecting");
    this.#queue.sayWaiting();
    const most = Math.min(BACKOFF_MOST_MS, BACKOFF_MS * 2 ** this.#tries++);
    this.#after("retry", waitMs ?? Math.random() * most, () => this.#connect());
  }

  /** @param {"ended" | "old"} status */
  #ended(status) {
    this.me = this.role = null;
    localStorage.removeItem("role");
    this.#queue.end();
    this.#become(status);
  }

  /** After sleep, or back in sight: is the socket still alive? */
  #probe() {
    if (this.status === "ended" || this.status === "old") return;
    if (!this.#ready) {
      if (!this.#socket) this.#connect();
      return;
    }
    this.#echo();
    this.#after("probe", PROBE_MS, () => this.#connect());
  }

  /** Once a second while the page is seen. */
  #second() {
    const now = { by: performance.now(), at: Date.now() };
    const jumpMs = now.at - this.#pace.at - (now.by - this.#pace.by);
    this.#pace = now;
    if (Math.abs(jumpMs) > JUMP_MS) {
      clock.jumped(jumpMs);
      this.#probe();
    }
    const sec = silence() / 1000;
    const stale = this.heardAt === 0 ? 0 : (AGES.find((a) => sec >= a) ?? 0);
    if (stale !== this.stale) {
      this.stale = stale;
      this.#tell();
    }
    this.#queue.second();
    if (this.status === "live" && this.#queue.stuck()) this.#connect();
  }

  // What the server says.

  /** @param {import("./wire.d.ts").FromServer} message */
  #hear(message) {
    this.#after("silence", SILENT_MS, () => this.#retry());
    clearTimeout(this.#timers.probe);
    switch (message.t) {
      case "hello":
        this.#hello(message);
        break;
      case "beat":
        clock.hint(message.now);
        this.#writable(message.readOnly ?? "");
        this.#laptop(message.clock ?? "");
        break;
      case "echo":
        this.#echoed(message);
        break;
      case "ack":
        this.#queue.answered(message.id, { id: message.id, rev: message.rev });
        break;
      case "refused":
        this.#queue.answered(message.id, { id: message.id, refusal: message.refusal, entity: message.entity });
        break;
      default:
        this.#apply(message);
        if (message.t === "board" || message.t === "patches") this.#caughtUp();
    }
    if (this.status !== "live") return;
    hear();
    this.heardAt = clock.now();
    if (this.stale) this.#second();
  }

  /** @param {import("./wire.d.ts").Hello} hello */
  #hello(hello) {
    clearTimeout(this.#timers.connect);
    if (hello.proto !== PROTOCOL) {
      this.#drop();
      this.#ended("old");
      return;
    }
    this.#page ||= hello.version;
    this.newer = this.#page !== hello.version;
    this.#ready = true;
    this.role = hello.role;
    localStorage.setItem("role", hello.role);
    this.me = { role: hello.role, person: hello.person ?? "", name: hello.name ?? "" };
    this.readOnly = hello.readOnly ?? "";
    this.clockSaid = hello.clock ?? "";
    clock.hint(hello.now);
    this.#after("healthy", HEALTHY_MS, () => (this.#tries = 0));
    this.#echoes = 0;
    this.#echo();
    this.#begin(hello);
    this.#tell();
  }

  /** Asks for what is missing, once it is known. @param {import("./wire.d.ts").Hello} hello */
  async #begin(hello) {
    const socket = this.#socket;
    if (!this.#board.epoch) await this.#whole;
    if (this.#socket !== socket) return;
    this.#resume();
    // Who has all that the server had then gets no patch: the page is up to date.
    if (hello.epoch === this.#board.epoch && hello.rev <= this.#board.rev) this.#caughtUp();
  }

  /** @param {import("./wire.d.ts").FromServer} message */
  #apply(message) {
    const { epoch, shiftSec } = this.#board;
    if (!this.#board.apply(message)) this.#resume();
    if (epoch && this.#board.shiftSec !== shiftSec) clock.moved((this.#board.shiftSec - shiftSec) * 1000);
    clock.offsetMin = this.#board.get("event/event")?.offsetMin ?? 0;
  }

  #resume() {
    this.#put({ t: "resume", epoch: this.#board.epoch, rev: this.#board.rev });
  }

  async #caughtUp() {
    if (this.status === "live" || !this.#ready) return;
    this.#become("live");
    this.#queue.next(); // a slow storage keeps back nothing that was given on this page
    await this.#queue.restore();
    this.#queue.next();
  }

  #echo() {
    this.#put({ t: "echo", sent: performance.now() });
  }

  /** @param {import("./wire.d.ts").Echo} echo */
  #echoed(echo) {
    clock.sample(echo.sent, echo.got, echo.now, performance.now());
    if (++this.#echoes < FIRST_ECHOES) this.#echo();
    else this.#after("echo", ECHO_MS, () => this.#echo());
  }

  /** @param {string} why */
  #writable(why) {
    if (why === this.readOnly) return;
    this.readOnly = why;
    if (why) this.#queue.sayWaiting();
    this.#tell();
    this.#queue.next();
  }

  /** @param {string} said */
  #laptop(said) {
    if (said === this.clockSaid) return;
    this.clockSaid = said;
    this.#tell();
  }

  // Small things.

  /** @param {import("./wire.d.ts").ToServer} message */
  #put(message) {
    if (this.#socket?.readyState === WebSocket.OPEN) this.#socket.send(JSON.stringify(message));
  }

  /** @param {string} name @param {number} ms @param {() => void} fn */
  #after(name, ms, fn) {
    clearTimeout(this.#timers[name]);
    this.#timers[name] = setTimeout(fn, ms);
  }

  /** @param {Status} status */
  #become(status) {
    if (status === this.status) return;
    this.status = status;
    this.#tell();
  }

  #tell() {
    for (const fn of [...this.#listeners]) fn();
  }
}

/** Starts to follow the board. @param {{board: import("./board.js").Board}} on */
export const start = ({ board }) => new Live(board);
