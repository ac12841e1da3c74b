// Queue: commands on their way to the board, the same id until the board has answered.
// Some may wait on the device while there is no network. Photos have a lane of their
// own, beside the commands and behind them.

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
 * @property {number} [shiftSec] what the board's time had been moved by when at was read
 * @property {{person: string, pin: string}[]} [pins]
 * @property {string} person whose device it was given on
 * @property {string} words what it does, for the list of those not sent yet
 * @property {Blob} [photo] to be stored first, for damage.photo
 * @property {number} [sent] how many per cent of the photo are on their way
 * @property {boolean} keep it may wait for the network
 * @property {number} born by performance.now
 * @property {boolean} [late] it goes, and no answer came for a while
 * @property {(outcome: Outcome) => void} [answer]
 */
/**
 * The connection as the queue knows it.
 * @typedef {object} Link
 * @property {() => boolean} open a command can be sent now
 * @property {() => boolean} readOnly the board takes no changes
 * @property {() => string} person whose device this is
 * @property {() => void} hurry looks at once whether the connection lives, or makes one
 * @property {(message: import("./wire.d.ts").ToServer) => void} put sends
 * @property {() => void} tell something that screens show has changed
 */

/** What may wait on a device without a network; all else is refused at once. */
const MAY_WAIT = new Set([
  "emergency.raise", "tag.on", "hands.on", "job.start", "job.hold", "job.resume", "job.join", "job.leave", "job.finish",
  "damage.report", "damage.photo", "part.bend", "note.add", "pack.read",
]);
/** Refusals of the moment, not of the command: what may wait is asked again. */
const ASK_AGAIN = new Set(["restarting", "too-many", "read-only"]);

/** What makes people safer. */
const SAFER = new Set(["robot.stop", "robot.doubt", "hands.on", "tag.on"]);
/** What takes away what one of those has brought. */
const LOOSER = new Set(["robot.go-on", "hands.off", "hands.override", "tag.off", "tag.override"]);

const AGAIN_MS = 1000;
const UPLOAD_AGAIN_MS = 4000;
/** How long a photo may stand still on its way before it is tried again. */
const UPLOAD_STILL_MS = 30_000;
/** How long an emergency or a photo may go unanswered before it counts as not sent. */
const LATE_MS = 2000;
/** How long the board may take to answer before another connection is tried: what was lost on this one may take long. */
const ANSWER_MS = 3000;
/** How long a command that may not wait is kept through a broken connection. */
const PATIENCE_MS = 10_000;

/** @param {Waiting} w */
const isEmergency = (w) => w.do === "emergency.raise";
/** @param {Waiting} w */
const isPhoto = (w) => w.do === "damage.photo";

/**
 * Whether a command stays behind one that was given before it. An emergency passes all;
 * a stop, a doubt, hands near and a tag put on pass all but each other and what takes such
 * a thing away; the rest keeps its order, and a photo stays behind everything.
 * @param {Waiting} w
 * @param {Waiting} earlier
 */
function staysBehind(w, earlier) {
  if (isEmergency(w) || isEmergency(earlier)) return isEmergency(earlier);
  if (SAFER.has(w.do)) return SAFER.has(earlier.do) || LOOSER.has(earlier.do);
  return isPhoto(w) || !isPhoto(earlier);
}

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
  /** Commands that the board has been sent and has not answered, and when. @type {Map<Waiting, number>} */
  #flying = new Map();
  /** The one photo that is on its way. @type {{w: Waiting, ask: XMLHttpRequest, moved: number} | null} */
  #upload = null;
  /** @type {Record<"command" | "photo", ReturnType<typeof setTimeout> | undefined>} */
  #again = { command: undefined, photo: undefined };
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

  /** The commands not answered yet that wait on this device, in the order in which they go. */
  get waiting() {
    return this.#line.filter((w) => w.keep && (w.late || !this.#link.open() || (!this.#flying.has(w) && w !== this.#upload?.w)));
  }

  /** All photos that are not on the board yet. */
  get photos() {
    return this.#line.filter(isPhoto);
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
      at: ask.at ?? (keep || ask.seen ? clock.wire() : undefined), shiftSec: this.#board.shiftSec || undefined,
      person: this.#link.person(), words: commandWords(this.#board, what, fields), born: performance.now(),
    };
    const done = new Promise((/** @type {(o: Outcome) => void} */ answer) => (w.answer = answer));
    this.#stand(w);
    if (keep) this.#keep.put(w);
    if (!this.#link.open() || this.#link.readOnly()) this.sayWaiting();
    if (isEmergency(w) || SAFER.has(what)) this.#upload?.ask.abort(); // it has the network to itself
    this.next();
    if (isEmergency(w)) this.#link.hurry();
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
    this.#flying.clear();
  }

  stop() {
    this.#upload?.ask.abort();
    clearTimeout(this.#again.command);
    clearTimeout(this.#again.photo);
  }

  /** The session ended: nothing that was given on this device goes on, but an emergency. */
  end() {
    for (const w of this.#line) {
      if (isEmergency(w)) this.#waits(w);
      else w.answer?.({ id: w.id, refusal: offline() });
    }
    this.#line = this.#line.filter(isEmergency);
    this.#upload?.ask.abort();
  }

  /** Gives a command its place in the line. @param {Waiting} w */
  #stand(w) {
    let at = this.#line.length;
    while (at > 0 && !staysBehind(w, this.#line[at - 1])) at--;
    this.#line.splice(at, 0, w);
  }

  /** Sends the emergencies, and the first of the rest that the board may take. */
  next() {
    if (!this.#link.open()) return;
    for (const w of this.#line) {
      const stays = this.#link.readOnly() && w.keep;
      if (w.photo) {
        if (!stays && w === this.#line[0]) this.#send(w, w.photo);
      } else if (!stays && !this.#flying.has(w)) {
        this.#flying.set(w, performance.now());
        this.#link.put({ t: "do", id: w.id, do: w.do, with: w.with, seen: w.seen, at: w.at, shiftSec: w.shiftSec, pins: w.pins });
      }
      if (!isEmergency(w)) return;
    }
  }

  /**
   * Stores the photo; then the command can name it.
   * @param {Waiting} w
   * @param {Blob} photo
   */
  #send(w, photo) {
    if (this.#upload) return;
    const ask = new XMLHttpRequest();
    this.#upload = { w, ask, moved: performance.now() };
    ask.upload.onprogress = ({ loaded, total }) => this.#moved(w, total ? loaded / total : 0);
    ask.onloadend = () => this.#sent(w, ask.response);
    ask.open("POST", "/api/photos");
    ask.setRequestHeader("Content-Type", "image/jpeg");
    ask.responseType = "json";
    ask.send(photo);
    this.#moved(w, 0);
  }

  /** So much of a photo has gone; screens hear of each tenth. @param {Waiting} w @param {number} share */
  #moved(w, share) {
    if (this.#upload?.w !== w) return;
    this.#upload.moved = performance.now();
    const sent = Math.floor(share * 10) * 10;
    if (sent === w.sent) return;
    w.sent = sent;
    this.#link.tell();
  }

  /**
   * A photo is stored, refused, or did not get through: then the next one is tried, and
   * this one again after it, whole.
   * @param {Waiting} w
   * @param {{photo?: string, refusal?: Refusal} | null} said
   */
  #sent(w, said) {
    this.#upload = null;
    if (!this.#line.includes(w)) return;
    if (said?.refusal && !ASK_AGAIN.has(said.refusal.code)) {
      this.#close(w, { id: w.id, refusal: said.refusal });
      return;
    }
    if (said?.photo) {
      w.with = { ...w.with, photo: said.photo };
      w.photo = undefined;
      this.#keep.put(w);
      this.next();
      return;
    }
    w.sent = undefined;
    this.#line = this.#line.filter((x) => x !== w);
    this.#stand(w);
    this.#later("photo", UPLOAD_AGAIN_MS);
    this.#link.tell();
  }

  /** The board has answered. @param {string} id @param {Outcome} outcome */
  answered(id, outcome) {
    const w = this.#line.find((x) => x.id === id);
    if (!w) return;
    this.#flying.delete(w);
    if (outcome.refusal && w.keep && ASK_AGAIN.has(outcome.refusal.code)) {
      this.#waits(w);
      this.#later("command", AGAIN_MS);
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
    for (const w of this.#line) if (w.keep) this.#waits(w);
    this.#link.tell();
  }

  /** @param {Waiting} w */
  #waits(w) {
    w.answer?.({ id: w.id, waits: true });
    w.answer = undefined;
  }

  /** Once a second: says what gets no answer, and gives up on what may not wait for one. */
  second() {
    const now = performance.now();
    if (this.#upload && now - this.#upload.moved > UPLOAD_STILL_MS) this.#upload.ask.abort();
    for (const w of this.#line) {
      if (w.late || !(isEmergency(w) || isPhoto(w)) || now - w.born < LATE_MS) continue;
      w.late = true;
      this.#waits(w);
      this.#link.tell();
    }
    for (const w of [...this.#line]) {
      if (w.keep || now - w.born < PATIENCE_MS) continue;
      this.#flying.delete(w);
      this.#close(w, {
        id: w.id,
        refusal: { code: "offline", sentence: "The board did not answer in time. Look at what it says now before you repeat this." },
      });
    }
  }

  /** Whether a command has been on its way for too long. To look at a PIN takes its time. */
  stuck() {
    const now = performance.now();
    return [...this.#flying].some(([w, since]) => !w.pins?.length && now - since > ANSWER_MS);
  }

  /** @param {"command" | "photo"} what @param {number} ms */
  #later(what, ms) {
    clearTimeout(this.#again[what]);
    this.#again[what] = setTimeout(() => this.next(), ms);
  }

  /** Takes up what an earlier visit of the same person left on this device. */
  async restore() {
    const kept = await this.#keep.all();
    const mine = kept.filter((w) => w.person === this.#link.person() && !this.#line.some((x) => x.id === w.id));
    for (const w of mine) w.born = 0; // on another page's clock
    const all = [...mine, ...this.#line].sort((x, y) => (x.id < y.id ? -1 : 1));
    this.#line = [];
    for (const w of all) this.#stand(w);
    this.#link.tell();
  }
}

/** The commands kept on this device: in IndexedDB, or in memory where there is none. */
class Keep {
  /** @type {Map<string, Waiting>} */
  #memory = new Map();
  /** What was answered: an older reading may still hold it. @type {Set<string>} */
  #gone = new Set();
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
    const { answer: _, sent: _sent, late: _late, ...plain } = w;
    this.#memory.set(w.id, plain);
    await this.#do("readwrite", (s) => s.put(plain));
    // It may have been answered while it was being written.
    if (!this.#memory.has(w.id)) await this.del(w.id);
  }

  /** @param {string} id */
  async del(id) {
    this.#memory.delete(id);
    this.#gone.add(id);
    await this.#do("readwrite", (s) => s.delete(id));
  }

  /** @returns {Promise<Waiting[]>} */
  async all() {
    const kept = (await this.#do("readonly", (s) => s.getAll())) ?? [...this.#memory.values()];
    return kept.filter((w) => !this.#gone.has(w.id));
  }
}
