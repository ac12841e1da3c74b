// Bell: the sound of walls and phones. Browsers keep it back until someone has touched the
// page, so it is never the only channel.

const REPEAT_MS = 10_000;
/** A taken alarm about people that stands so long sounds again. */
const AGAIN_MS = 3 * 60_000;
/** An alarm that went and comes again within this time is not a new one. */
const REARM_MS = 60_000;

/** @param {import("../core/wire.d.ts").Alarm} alarm @param {number} nowMs */
function quiet(alarm, nowMs) {
  if (alarm.class === "C" || alarm.shelvedUntil) return true;
  return Boolean(alarm.takenAt) && !(alarm.class === "A" && nowMs - Date.parse(alarm.takenAt ?? "") >= AGAIN_MS);
}

export class Bell {
  /** @type {AudioContext | null} */
  #audio = null;
  /** When each alarm last sounded and was last there, by performance.now. @type {Map<string, {at: number, seen: number}>} */
  #rung = new Map();

  /** Whether sound comes out. */
  get on() {
    return this.#audio?.state === "running";
  }

  /** Asks for sound; works only from a touch. */
  async allow() {
    try {
      this.#audio ??= new AudioContext();
      await this.#audio.resume();
    } catch {
      this.#audio = null;
    }
  }

  /**
   * Sounds class A every 10 s until someone has taken it, and again where it still
   * stands 3 min later; class B once, class C and what is snoozed never. What
   * comes and goes sounds at most once a minute.
   * @param {[string, import("../core/wire.d.ts").Alarm][]} alarms
   * @param {number} nowMs the board's time
   */
  ring(alarms, nowMs) {
    const now = performance.now();
    for (const [key, alarm] of alarms) {
      const id = `${key} ${alarm.since}`;
      const rung = this.#rung.get(id);
      if (rung) rung.seen = now;
      const due = !rung || (alarm.class === "A" && now - rung.at >= REPEAT_MS);
      if (!due || !this.on || quiet(alarm, nowMs)) continue;
      this.#rung.set(id, { at: now, seen: now });
      this.#sound(alarm.class === "A" ? [880, 660, 880, 660] : [660]);
    }
    for (const [id, { seen }] of this.#rung) if (now - seen > REARM_MS) this.#rung.delete(id);
  }

  stop() {
    this.#audio?.close();
    this.#audio = null;
  }

  /** @param {number[]} tones in hertz, a quarter of a second each */
  #sound(tones) {
    const audio = this.#audio;
    if (!audio) return;
    tones.forEach((hertz, i) => {
      const at = audio.currentTime + i * 0.25;
      const gain = new GainNode(audio, { gain: 0 });
      gain.gain.setValueAtTime(0, at);
      gain.gain.linearRampToValueAtTime(0.5, at + 0.02);
      gain.gain.setValueAtTime(0.5, at + 0.18);
      gain.gain.linearRampToValueAtTime(0, at + 0.22);
      const tone = new OscillatorNode(audio, { type: "square", frequency: hertz });
      tone.connect(gain).connect(audio.destination);
      tone.start(at);
      tone.stop(at + 0.24);
    });
  }
}
