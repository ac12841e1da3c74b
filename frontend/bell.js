// Bell: the wall's sound. Browsers keep it back until someone has touched the
// page, so it is never the only channel.

const REPEAT_MS = 10_000;

export class Bell {
  /** @type {AudioContext | null} */
  #audio = null;
  /** When each alarm last sounded, by performance.now. @type {Map<string, number>} */
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
   * Sounds class A every 10 s while it lasts, class B once, class C never.
   * @param {[string, import("./wire.d.ts").Alarm][]} alarms
   */
  ring(alarms) {
    const now = performance.now();
    const lasting = new Set(alarms.map(([key, alarm]) => `${key} ${alarm.since}`));
    for (const id of this.#rung.keys()) if (!lasting.has(id)) this.#rung.delete(id);
    for (const [key, alarm] of alarms) {
      const id = `${key} ${alarm.since}`;
      const last = this.#rung.get(id);
      const due = alarm.class === "A" ? last === undefined || now - last >= REPEAT_MS : alarm.class === "B" && last === undefined;
      if (!due || !this.on) continue;
      this.#rung.set(id, now);
      this.#sound(alarm.class === "A" ? [880, 660, 880, 660] : [660]);
    }
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
