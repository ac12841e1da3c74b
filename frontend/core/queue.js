// Queue: commands on their way to the board: in order, one in flight, the same id
// until the board has answered. Some may wait on the device while there is no
// network.

import { commandId } from "./board.js";
import { clock } from "./clock.js";
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
 * @property {(outcome: Outcome) => void} [answer]
 */
/**
 * The connection as the queue knows it.
 * @typedef {object} Link
 * @property {() => boolean} open a command can be sent now
 * @property {() => boolean} readOnly the board takes no changes
 * @property {() => string} person whose device this is
 * @property {(message: import("./wire.d.ts").ToServer) => void} put sends
 * @property {() => void} tell something that screens show has changed
 */

/** What may wait on a device without a network; all else is refused at once. */
const MAY_WAIT = new Set([
  "tag.on", "hands.on", "job.start", "job.hold", "job.resume", "job.join", "job.leave", "job.finish",
  "damage.report", "damage.photo", "note.add", "pack.read",
]);
/** Refusals of the moment, not of the command: what may wait is asked again. */
const ASK_AGAIN = new Set(["restarting", "too-many", "read-only"]);

const AGAIN_MS = 1000;
const UPLOAD_AGAIN_MS = 4000;
/** How long a command that may not wait is kept through a broken connection. */
const PATIENCE_MS = 10_000;

/** @returns {Refusal} */
const offline = () => ({
  code: "offline",
  sentence: "No connection to the board. This is not kept for later: do it when the board is back, or shout.",
});

export class Queue {
  /** Commands that waited and were refused in the end. @type {{id: string, words: string, refusal: Refusal}[]} */
  refused = [];

  /** @type {Waiting[]} */
  #line = [];
  /** @type {Waiting | null} */
  #flying = null;
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  #again;
  /** The moment in the last command's id: the next one is later, so that ids sort in the order given. */
  #lastMs = 0;
  #keep = new Keep();
  #board;
  #link;

  /** @param {import("./board.js").Board} board @param {Link} link */
  constructor(board, link) {
    this.#board = board;
    this.#link = link;
  }

  /** The commands not answered yet that wait on this device, oldest first. */
  get waiting() {
    return this.#line.filter((w) => w.keep && (w !== this.#flying || !this.#link.open()));
  }

  /**
   * Gives a command. The promise is kept with what became of it; it never fails.
   * @template {Do} D
   * @param {D} what
   * @param {Commands[D]} fields
   * @param {{seen?: Record<string, number>, at?: string, pins?: {person: string, pin: string}[], photo?: Blob}} ask
   * @returns {Promise<Outcome>}
   */
  give(what, fields, ask) {
    const keep = MAY_WAIT.has(what) && !ask.pins?.length;
    this.#lastMs = Math.max(Math.floor(clock.now()), this.#lastMs + 1);
    const id = commandId(this.#lastMs);
    if (!this.#link.open() && !keep) return Promise.resolve({ id, refusal: offline() });
    /** @type {Waiting} */
    const w = {
      id, do: what, with: fields, seen: ask.seen, pins: ask.pins, photo: ask.photo, keep,
      at: ask.at ?? (keep || ask.seen ? clock.wire() : undefined),
      person: this.#link.person(), words: commandWords(this.#board, what, fields), born: performance.now(),
    };
    const done = new Promise((/** @type {(o: Outcome) => void} */ answer) => (w.answer = answer));
    this.#line.push(w);
    if (keep) this.#keep.put(w);
    if (!this.#link.open() || this.#link.readOnly()) this.sayWaiting();
    this.next();
    this.#link.tell();
    return done;
  }

  /** Forgets a refusal that the person has read. @param {string} id */
  dismiss(id) {
    this.refused = this.refused.filter((r) => r.id !== id);
    this.#link.tell();
  }

  /** The socket is gone: what was in flight will be sent again. */
  drop() {
    this.#flying = null;
  }

  stop() {
    clearTimeout(this.#again);
  }

  /** The session ended: nothing that was given on this device goes on. */
  end() {
    for (const w of this.#line) w.answer?.({ id: w.id, refusal: offline() });
    this.#line = [];
  }

  /** Sends the oldest command, if none is in flight. */
  next() {
    if (this.#flying || !this.#link.open()) return;
    const w = this.#line[0];
    if (!w || (this.#link.readOnly() && w.keep)) return;
    this.#flying = w;
    if (w.photo) this.#upload(w);
    else this.#link.put({ t: "do", id: w.id, do: w.do, with: w.with, seen: w.seen, at: w.at, pins: w.pins });
  }

  /**
   * Stores the photo; then the command can name it.
   * @param {Waiting} w
   */
  async #upload(w) {
    const posted = { method: "POST", headers: { "Content-Type": "image/jpeg" }, body: w.photo };
    const answer = await fetch("/api/photos", posted).catch(() => null);
    const said = await answer?.json().catch(() => null);
    if (this.#flying !== w) return;
    this.#flying = null;
    if (said?.photo) {
      w.with = { ...w.with, photo: said.photo };
      w.photo = undefined;
      this.#keep.put(w);
      this.next();
    } else if (said?.refusal && !ASK_AGAIN.has(said.refusal.code)) {
      this.#close(w, { id: w.id, refusal: said.refusal });
    } else {
      this.#later(UPLOAD_AGAIN_MS);
    }
  }

  /** The board has answered. @param {string} id @param {Outcome} outcome */
  answered(id, outcome) {
    const w = this.#line.find((x) => x.id === id);
    if (!w) return;
    if (this.#flying === w) this.#flying = null;
    if (outcome.refusal && w.keep && ASK_AGAIN.has(outcome.refusal.code)) {
      w.answer?.({ id, waits: true });
      w.answer = undefined;
      this.#later(AGAIN_MS);
      return this.#link.tell();
    }
    return this.#close(w, outcome);
  }

  /** @param {Waiting} w @param {Outcome} outcome */
  #close(w, outcome) {
    this.#line = this.#line.filter((x) => x !== w);
    if (w.keep) this.#keep.del(w.id);
    if (w.answer) w.answer(outcome);
    else if (outcome.refusal && outcome.refusal.code !== "nothing-done") {
      this.refused.push({ id: w.id, words: w.words, refusal: outcome.refusal });
    }
    this.next();
    this.#link.tell();
  }

  /** Tells the givers of what may wait that it waits. */
  sayWaiting() {
    for (const w of this.#line) {
      if (!w.keep) continue;
      w.answer?.({ id: w.id, waits: true });
      w.answer = undefined;
    }
    this.#link.tell();
  }

  /** Gives up on what may not wait, when no answer came in time. */
  losePatience() {
    for (const w of [...this.#line]) {
      if (w.keep || performance.now() - w.born < PATIENCE_MS) continue;
      if (this.#flying === w) this.#flying = null;
      this.#close(w, {
        id: w.id,
        refusal: { code: "offline", sentence: "The board did not answer in time. Look at what it says now before you repeat this." },
      });
    }
  }

  /** @param {number} ms */
  #later(ms) {
    clearTimeout(this.#again);
    this.#again = setTimeout(() => this.next(), ms);
  }

  /** Takes up what an earlier visit of the same person left on this device. */
  async restore() {
    const kept = await this.#keep.all();
    const mine = kept.filter((w) => w.person === this.#link.person() && !this.#line.some((x) => x.id === w.id));
    this.#line = [...mine.sort((x, y) => (x.id < y.id ? -1 : 1)), ...this.#line];
    this.#link.tell();
  }
}

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
