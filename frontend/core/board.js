// Board: this device's copy of the board. It is changed by messages only, and
// holds no rules.

/** @typedef {import("./wire.d.ts").Nouns} Nouns */
/** @typedef {import("./wire.d.ts").Kind} Kind */

/** @param {string} key */
const kindOf = (key) => key.slice(0, key.indexOf("/"));

export class Board {
  /** The revision this copy stands at, 0 before the first message. */
  rev = 0;
  /** The epoch its revisions belong to. */
  epoch = "";
  /** When the forecast was made, "" before the first. */
  forecastAt = "";

  /** @type {Map<string, Map<string, any>>} */
  #kinds = new Map();
  /** @type {Map<string, any[]>} */
  #lists = new Map();
  #forecast = { epoch: "", seq: -1 };
  /** The kinds that the forecast has made; they are not in the journal. @type {Set<string>} */
  #derived = new Set();
  /** @type {Set<() => void>} */
  #listeners = new Set();
  #frame = 0;

  /**
   * The noun under a key, such as "job/0192…".
   * @template {Kind} K
   * @param {`${K}/${string}`} key
   * @returns {Nouns[K] | undefined}
   */
  get(key) {
    return this.#kinds.get(kindOf(key))?.get(key);
  }

  /** By how much a captain has moved the board's time in all, in seconds. */
  get shiftSec() {
    return this.get("clock/clock")?.shiftSec ?? 0;
  }

  /**
   * All nouns of a kind, in no order. The same array until one of them changes.
   * @template {Kind} K
   * @param {K} kind
   * @returns {readonly Nouns[K][]}
   */
  all(kind) {
    let list = this.#lists.get(kind);
    if (!list) {
      list = [...(this.#kinds.get(kind)?.values() ?? [])];
      this.#lists.set(kind, list);
    }
    return list;
  }

  /**
   * The keys and nouns of a kind.
   * @template {Kind} K
   * @param {K} kind
   * @returns {[string, Nouns[K]][]}
   */
  entries(kind) {
    return [...(this.#kinds.get(kind)?.entries() ?? [])];
  }

  /**
   * Takes a message in. False means that a revision is missing: resume.
   * @param {import("./wire.d.ts").FromServer} message
   */
  apply(message) {
    switch (message.t) {
      case "board":
        this.#whole(message);
        break;
      case "patches":
        if (!this.#patches(message.list)) return false;
        break;
      case "forecast":
        this.#foresee(message);
        break;
      default:
        return true;
    }
    this.#wake();
    return true;
  }

  /**
   * Calls fn after changes, once a frame at most. The answer stops it.
   * @param {() => void} fn
   * @returns {() => void}
   */
  subscribe(fn) {
    this.#listeners.add(fn);
    return () => this.#listeners.delete(fn);
  }

  /** @param {import("./wire.d.ts").Whole} message */
  #whole(message) {
    const sameEpoch = message.epoch === this.epoch;
    for (const kind of [...this.#kinds.keys()]) {
      if (!sameEpoch || !this.#derived.has(kind)) this.#drop(kind);
    }
    if (!sameEpoch) this.#forecast = { epoch: "", seq: -1 };
    this.epoch = message.epoch;
    this.rev = message.rev;
    for (const key in message.put) this.#put(key, message.put[key]);
  }

  /** @param {import("./wire.d.ts").Patch[]} list */
  #patches(list) {
    for (const patch of list) {
      if (patch.rev <= this.rev) continue;
      if (patch.rev !== this.rev + 1) return false;
      for (const key in patch.put) this.#put(key, patch.put[key]);
      for (const key of patch.del ?? []) this.#del(key);
      this.rev = patch.rev;
    }
    return true;
  }

  /** @param {import("./wire.d.ts").Forecast} message */
  #foresee(message) {
    const { epoch, seq } = this.#forecast;
    if (message.epoch === epoch && message.seq <= seq && !message.whole) return;
    if (message.whole) for (const kind of this.#derived) this.#drop(kind);
    for (const key in message.put) {
      this.#derived.add(kindOf(key));
      this.#put(key, message.put[key]);
    }
    for (const key of message.del ?? []) this.#del(key);
    this.#forecast = { epoch: message.epoch, seq: message.seq };
    this.forecastAt = message.at;
  }

  /** @param {string} key @param {unknown} noun */
  #put(key, noun) {
    const kind = kindOf(key);
    let table = this.#kinds.get(kind);
    if (!table) this.#kinds.set(kind, (table = new Map()));
    table.set(key, noun);
    this.#lists.delete(kind);
  }

  /** @param {string} key */
  #del(key) {
    this.#kinds.get(kindOf(key))?.delete(key);
    this.#lists.delete(kindOf(key));
  }

  /** @param {string} kind */
  #drop(kind) {
    this.#kinds.delete(kind);
    this.#lists.delete(kind);
  }

  #wake() {
    if (this.#frame) return;
    this.#frame = requestAnimationFrame(() => {
      this.#frame = 0;
      for (const fn of [...this.#listeners]) fn();
    });
  }
}

/** @param {Uint8Array} bytes */
function uuidText(bytes) {
  const hex = [...bytes.subarray(0, 16)].map((n) => n.toString(16).padStart(2, "0")).join("");
  return `${hex.slice(0, 8)}-${hex.slice(8, 12)}-${hex.slice(12, 16)}-${hex.slice(16, 20)}-${hex.slice(20)}`;
}

/** @param {Uint8Array} bytes @param {number} version */
function marked(bytes, version) {
  bytes[6] = (bytes[6] & 0x0f) | (version << 4);
  bytes[8] = (bytes[8] & 0x3f) | 0x80;
  return uuidText(bytes);
}

/**
 * A new command id: a version 7 UUID of the moment (RFC 9562 §5.7).
 * @param {number} nowMs
 */
export function commandId(nowMs) {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  for (let i = 5, ms = Math.floor(nowMs); i >= 0; i--, ms = Math.floor(ms / 256)) bytes[i] = ms % 256;
  return marked(bytes, 7);
}

/**
 * The id of the noun that a command makes: a version 5 UUID over the command's id,
 * the kind and the name (RFC 9562 §5.5). A phone without a connection needs it to
 * hang a photo on a damage that the board has not seen yet.
 * @param {string} command
 * @param {Kind} kind
 * @param {string} [name]
 */
export function madeId(command, kind, name = "") {
  const space = (command.replaceAll("-", "").match(/../g) ?? []).map((pair) => parseInt(pair, 16));
  return marked(sha1(new Uint8Array([...space, ...new TextEncoder().encode(`${kind}/${name}`)])), 5);
}

/**
 * SHA-1 (FIPS 180-4 §6.1). Browsers keep theirs from pages on plain http.
 * @param {Uint8Array} message
 */
function sha1(message) {
  const padded = new Uint8Array((((message.length + 8) >> 6) + 1) << 6);
  padded.set(message);
  padded[message.length] = 0x80;
  const view = new DataView(padded.buffer);
  view.setUint32(padded.length - 4, message.length * 8);
  const sum = new Uint32Array([0x67452301, 0xefcdab89, 0x98badcfe, 0x10325476, 0xc3d2e1f0]);
  const w = new Uint32Array(80);
  const turn = (/** @type {number} */ x, /** @type {number} */ n) => (x << n) | (x >>> (32 - n));
  for (let at = 0; at < padded.length; at += 64) {
    for (let t = 0; t < 80; t++) w[t] = t < 16 ? view.getUint32(at + 4 * t) : turn(w[t - 3] ^ w[t - 8] ^ w[t - 14] ^ w[t - 16], 1);
    let [a, b, c, d, e] = sum;
    for (let t = 0; t < 80; t++) {
      const [f, k] =
        t < 20 ? [(b & c) | (~b & d), 0x5a827999]
        : t < 40 ? [b ^ c ^ d, 0x6ed9eba1]
        : t < 60 ? [(b & c) | (b & d) | (c & d), 0x8f1bbcdc]
        : [b ^ c ^ d, 0xca62c1d6];
      const next = (turn(a, 5) + f + e + k + w[t]) | 0;
      [e, d, c, b, a] = [d, c, turn(b, 30), a, next];
    }
    sum[0] += a; sum[1] += b; sum[2] += c; sum[3] += d; sum[4] += e;
  }
  const out = new Uint8Array(20);
  sum.forEach((n, i) => new DataView(out.buffer).setUint32(4 * i, n));
  return out;
}
