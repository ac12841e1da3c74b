// Live: the one module that knows of a socket. It keeps the copy of the board and
// the clock true, and carries commands: in order, one in flight, the same id until
// the board has answered. Some may wait on the device while there is no network.

import { commandId } from "./board.js";
import { clock, hear, silence } from "./clock.js";
import { commandWords } from "./words.js";

/** @typedef {import("./wire.d.ts").Refusal} Refusal */
/** @typedef {import("./wire.d.ts").Do} Do */
/** @typedef {import("./wire.d.ts").Commands} Commands */
/**
 * What became of a command: done at a revision, refused, or waiting on this device
 * for the network.
 * @typedef {{id: string, rev?: number, refusal?: Refusal, entity?: any, waits?: true}} Outcome
 */
/**
 * @typedef {object} Waiting a command on its way
 * @property {string} id
 * @property {string} do
 * @property {any} with
 * @property {Record<string, number>} [seen]
 * @property {string} [at]
 * @property {{person: string, pin: string}[]} [pins]
 * @property {string} person whose device it was given on
 * @property {string} words what it does, for the list of those not sent yet
 * @property {Blob} [photo] to be stored first, for damage.photo
 * @property {boolean} keep it may wait for the network
 * @property {number} born by performance.now
 * @property {number} [uploads] how often the photo was tried
 * @property {(outcome: Outcome) => void} [answer]
 */
/** @typedef {"connecting" | "live" | "lost" | "ended" | "old"} Status */

/** What may wait on a device without a network; all else is refused at once. */
const MAY_WAIT = new Set([
  "tag.on", "hands.on", "job.start", "job.hold", "job.resume", "job.finish", "damage.report", "damage.photo", "note.add", "pack.read",
]);
/** Refusals of the moment, not of the command: what may wait is asked again. */
const ASK_AGAIN = new Set(["restarting", "too-many", "read-only"]);

const PROTOCOL = "mendline.v1";
const CONNECT_MS = 5000;
const SILENT_MS = 10_000;
const PROBE_MS = 2000;
const ECHO_MS = 10_000;
const FIRST_ECHOES = 5;
const HEALTHY_MS = 30_000;
const BACKOFF_MS = 500;
const BACKOFF_MOST_MS = 4000;
/** How long a command that may not wait is kept through a broken connection. */
const PATIENCE_MS = 10_000;
const JUMP_MS = 2000;
/** The ages of the board, in seconds, at which screens change what they say. */
const AGES = /** @type {const} */ ([60, 20, 5]);

export class Live {
  /** @type {Status} */
  status = "connecting";
  /** Who this device is; null before the server has said so. @type {{role: import("./wire.d.ts").Role, person: string, name: string} | null} */
  me = null;
  /** Why the board takes no changes, or "". */
  readOnly = "";
  /** The board's program changed since this page was loaded. */
  newer = false;
  /** 0, 5, 20 or 60: the board on this screen is at least so many seconds old. @type {0 | 5 | 20 | 60} */
  stale = 0;
  /** The server's time at which it was last heard, in milliseconds. */
  heardAt = 0;
  /** Commands that waited and were refused in the end. @type {{id: string, words: string, sentence: string}[]} */
  refused = [];

  /** @type {Waiting[]} */
  #line = [];
  /** @type {Waiting | null} */
  #flying = null;
  #board;
  /** @type {WebSocket | null} */
  #socket = null;
  #ready = false;
  #tries = 0;
  #echoes = 0;
  #page = "";
  #pace = { by: performance.now(), at: Date.now() };
  /** @type {Record<string, ReturnType<typeof setTimeout> | undefined>} */
  #timers = {};
  /** @type {Set<() => void>} */
  #listeners = new Set();
  #keep = new Keep();
  #off = new AbortController();

  /** @param {import("./board.js").Board} board */
  constructor(board) {
    this.#board = board;
    const on = { signal: this.#off.signal };
    document.addEventListener("visibilitychange", () => document.hidden || this.#probe(), on);
    addEventListener("pageshow", () => this.#probe(), on);
    addEventListener("online", () => this.#probe(), on);
    this.#off.signal.addEventListener("abort", clock.each(() => this.#second()));
    this.#connect();
  }

  /** The commands not answered yet that wait on this device, oldest first. */
  get waiting() {
    return this.#line.filter((w) => w.keep && (w !== this.#flying || this.status !== "live"));
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
   * @returns {Promise<Outcome>}
   */
  send(what, fields, ask = {}) {
    const keep = MAY_WAIT.has(what) && !ask.pins?.length;
    const id = commandId(clock.now());
    if (this.status !== "live" && !keep) return Promise.resolve({ id, refusal: offline() });
    /** @type {Waiting} */
    const w = {
      id, do: what, with: fields, seen: ask.seen, pins: ask.pins, photo: ask.photo, keep,
      at: keep ? (ask.at ?? clock.wire()) : ask.at,
      person: this.me?.person ?? "", words: commandWords(this.#board, what, fields), born: performance.now(),
    };
    const done = new Promise((/** @type {(o: Outcome) => void} */ answer) => (w.answer = answer));
    this.#line.push(w);
    if (keep) this.#keep.put(w);
    if (this.status !== "live" || this.readOnly) this.#settleWaiting();
    this.#next();
    this.#tell();
    return done;
  }

  /** Forgets a refusal that the person has read. @param {string} id */
  dismiss(id) {
    this.refused = this.refused.filter((r) => r.id !== id);
    this.#tell();
  }

  /** Connects anew, after joining. */
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
    for (const name in this.#timers) clearTimeout(this.#timers[name]);
  }

  // The socket.

  #connect() {
    this.#drop();
    this.#become(this.me ? "lost" : "connecting");
    const socket = new WebSocket(`${location.protocol === "https:" ? "wss" : "ws"}://${location.host}/live`, PROTOCOL);
    this.#socket = socket;
    this.#after("connect", CONNECT_MS, () => this.#retry());
    socket.onmessage = (e) => this.#socket === socket && this.#hear(JSON.parse(e.data));
    socket.onclose = (e) => this.#socket === socket && this.#closed(e.code);
  }

  /** Lets go of the socket without waiting for it: a dead one may never say so. */
  #drop() {
    const socket = this.#socket;
    this.#socket = null;
    this.#ready = false;
    this.#flying = null;
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
        return this.#retry(Math.random() * 5000);
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
    this.#settleWaiting();
    const most = Math.min(BACKOFF_MOST_MS, BACKOFF_MS * 2 ** this.#tries++);
    this.#after("retry", waitMs ?? Math.random() * most, () => this.#connect());
  }

  /** @param {"ended" | "old"} status */
  #ended(status) {
    this.me = null;
    for (const w of this.#line) w.answer?.({ id: w.id, refusal: offline() });
    this.#line = [];
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
    const jumped = Math.abs(now.at - this.#pace.at - (now.by - this.#pace.by)) > JUMP_MS;
    this.#pace = now;
    if (jumped) {
      clock.forget();
      this.#probe();
    }
    const sec = silence() / 1000;
    const stale = this.heardAt === 0 ? 0 : (AGES.find((a) => sec >= a) ?? 0);
    if (stale !== this.stale) {
      this.stale = stale;
      this.#tell();
    }
    this.#losePatience();
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
        break;
      case "echo":
        this.#echoed(message);
        break;
      case "ack":
        this.#answered(message.id, { id: message.id, rev: message.rev });
        break;
      case "refused":
        this.#answered(message.id, { id: message.id, refusal: message.refusal, entity: message.entity });
        break;
      default:
        if (!this.#board.apply(message)) this.#resume();
        clock.offsetMin = this.#board.get("event/event")?.offsetMin ?? 0;
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
    this.me = { role: hello.role, person: hello.person ?? "", name: hello.name ?? "" };
    this.readOnly = hello.readOnly ?? "";
    clock.hint(hello.now);
    this.#after("healthy", HEALTHY_MS, () => (this.#tries = 0));
    this.#echoes = 0;
    this.#resume();
    this.#echo();
    // A client whose revision is the server's own gets no patch: it is up to date.
    if (hello.epoch === this.#board.epoch && hello.rev === this.#board.rev) this.#caughtUp();
    this.#tell();
  }

  #resume() {
    this.#put({ t: "resume", epoch: this.#board.epoch, rev: this.#board.rev });
  }

  async #caughtUp() {
    if (this.status === "live" || !this.#ready) return;
    this.#become("live");
    await this.#restore();
    this.#next();
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
    if (why) this.#settleWaiting();
    this.#tell();
    this.#next();
  }

  // Commands on their way.

  #next() {
    if (this.#flying || this.status !== "live") return;
    const w = this.#line[0];
    if (!w || (this.readOnly && w.keep)) return;
    this.#flying = w;
    if (w.photo) this.#upload(w);
    else this.#put({ t: "do", id: w.id, do: w.do, with: w.with, seen: w.seen, at: w.at, pins: w.pins });
  }

  /**
   * Stores the photo; then the command can name it.
   * @param {Waiting} w
   */
  async #upload(w) {
    const answer = await fetch("/api/photos", { method: "POST", headers: { "Content-Type": "image/jpeg" }, body: w.photo }).catch(() => null);
    const said = await answer?.json().catch(() => null);
    if (this.#flying !== w) return;
    this.#flying = null;
    if (said?.photo) {
      w.with = { ...w.with, photo: said.photo };
      w.photo = undefined;
      this.#keep.put(w);
      this.#next();
    } else if (said?.refusal && !ASK_AGAIN.has(said.refusal.code)) {
      this.#close(w, { id: w.id, refusal: said.refusal });
    } else {
      this.#after("again", BACKOFF_MOST_MS, () => this.#next());
    }
  }

  /** @param {string} id @param {Outcome} outcome */
  #answered(id, outcome) {
    const w = this.#line.find((x) => x.id === id);
    if (!w) return;
    if (this.#flying === w) this.#flying = null;
    if (outcome.refusal && w.keep && ASK_AGAIN.has(outcome.refusal.code)) {
      w.answer?.({ id, waits: true });
      w.answer = undefined;
      this.#after("again", 1000, () => this.#next());
      return this.#tell();
    }
    return this.#close(w, outcome);
  }

  /** @param {Waiting} w @param {Outcome} outcome */
  #close(w, outcome) {
    this.#line = this.#line.filter((x) => x !== w);
    if (w.keep) this.#keep.del(w.id);
    if (w.answer) w.answer(outcome);
    else if (outcome.refusal && outcome.refusal.code !== "nothing-done") {
      this.refused.push({ id: w.id, words: w.words, sentence: outcome.refusal.sentence });
    }
    this.#next();
    this.#tell();
  }

  /** Tells the givers of what may wait that it waits. */
  #settleWaiting() {
    for (const w of this.#line) {
      if (!w.keep) continue;
      w.answer?.({ id: w.id, waits: true });
      w.answer = undefined;
    }
    this.#tell();
  }

  /** Gives up on what may not wait, when no answer came in time. */
  #losePatience() {
    for (const w of [...this.#line]) {
      if (w.keep || performance.now() - w.born < PATIENCE_MS) continue;
      if (this.#flying === w) this.#flying = null;
      this.#close(w, {
        id: w.id,
        refusal: { code: "offline", sentence: "The board did not answer in time. Look at what it says now before you repeat this." },
      });
    }
  }

  /** Takes up what an earlier visit of the same person left on this device. */
  async #restore() {
    const kept = await this.#keep.all();
    const mine = kept.filter((w) => w.person === this.me?.person && !this.#line.some((x) => x.id === w.id));
    this.#line = [...mine, ...this.#line].sort((x, y) => (x.id < y.id ? -1 : 1));
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

/** @returns {Refusal} */
const offline = () => ({
  code: "offline",
  sentence: "No connection to the board. This is not kept for later: do it when the board is back, or shout.",
});

/** The commands kept on this device: in IndexedDB, or in memory where there is none. */
class Keep {
  /** @type {Map<string, Waiting>} */
  #memory = new Map();
  #db = this.#open();

  /** @returns {Promise<IDBDatabase | null>} */
  #open() {
    return new Promise((found) => {
      try {
        const ask = indexedDB.open("mendline", 1);
        ask.onupgradeneeded = () => ask.result.createObjectStore("waiting", { keyPath: "id" });
        ask.onsuccess = () => found(ask.result);
        ask.onerror = () => found(null);
      } catch {
        found(null);
      }
    });
  }

  /**
   * @template T
   * @param {IDBTransactionMode} mode
   * @param {(s: IDBObjectStore) => IDBRequest<T>} act
   * @returns {Promise<T | null>}
   */
  async #do(mode, act) {
    const db = await this.#db;
    return new Promise((done) => {
      if (!db) return done(null);
      try {
        const ask = act(db.transaction("waiting", mode).objectStore("waiting"));
        ask.onsuccess = () => done(ask.result);
        ask.onerror = () => done(null);
      } catch {
        done(null);
      }
      return undefined;
    });
  }

  /** @param {Waiting} w */
  async put(w) {
    const { answer: _, ...plain } = w;
    this.#memory.set(w.id, plain);
    await this.#do("readwrite", (s) => s.put(plain));
    // It may have been answered while it was being written.
    if (!this.#memory.has(w.id)) await this.del(w.id);
  }

  /** @param {string} id */
  async del(id) {
    this.#memory.delete(id);
    await this.#do("readwrite", (s) => s.delete(id));
  }

  /** @returns {Promise<Waiting[]>} */
  async all() {
    return (await this.#do("readonly", (s) => s.getAll())) ?? [...this.#memory.values()];
  }
}

/** Starts to follow the board. @param {{board: import("./board.js").Board}} on */
export const start = ({ board }) => new Live(board);
