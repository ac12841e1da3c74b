// Captain: the review of the day. It shows what to talk about and judges nobody.

import { a, b, div, h2, p, tap } from "../core/tags.js";
import { clock, minuteWords } from "../core/clock.js";
import { listWords } from "../core/words.js";

/** @typedef {import("./captain.js").Captain} Captain */
/** @typedef {import("../core/wire.d.ts").Review} Review */
/** @typedef {import("../core/wire.d.ts").ReviewCounts} Counts */
/** @typedef {import("../core/tags.js").Children} Children */

/** What is counted, in words. @type {[keyof Counts, string][]} */
const counted = [
  ["fast", "answered too fast to be read"], ["overrides", "overrides"], ["tags", "tags left on"], ["late", "late answers"],
  ["paper", "answers from paper"], ["uncovered", "jobs worked on uncovered"], ["alarms", "alarms"],
];

/** @param {Counts} counts */
function countWords(counts) {
  const said = counted.filter(([key]) => counts[key] > 0).map(([key, words]) => `${words}: ${counts[key]}`);
  return said.length ? said.join(" · ") : "nothing to show";
}

/** @param {number} sec */
const minutes = (sec) => (sec < 60 ? `${sec} s` : minuteWords(sec, "work"));

/** @param {string | undefined} moment */
const hour = (moment) => clock.hhmm(moment);

/** A journal that takes longer to read than one answer may is asked for again, when the server says. */
const AGAIN_MS = 2000;

/** The review, asked of the server when this list is shown. */
export class DayReview {
  /** @type {Review | null} */
  made = null;
  trouble = "";
  asked = false;
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  #again;
  /** The newest question: an older one's answer is dropped. */
  #question = 0;

  /** @param {Captain} captain */
  constructor(captain) {
    this.captain = captain;
  }

  async load() {
    this.asked = true;
    this.made = null;
    this.trouble = "";
    this.stop();
    const question = this.#question;
    this.captain.redraw();
    const answer = await fetch("/api/review").catch(() => null);
    const said = await answer?.json().catch(() => null);
    if (question !== this.#question) return;
    if (answer?.status === 429) {
      this.#again = setTimeout(() => this.load(), AGAIN_MS); // it goes on from where it is
      return;
    }
    if (answer?.ok) this.made = said;
    else this.trouble = said?.refusal?.sentence ?? "The board did not answer. Try again when it is back.";
    this.captain.redraw();
  }

  stop() {
    clearTimeout(this.#again);
    this.#question++;
  }

  view() {
    if (!this.asked) queueMicrotask(() => this.load());
    return div(
      { class: "list" },
      div({ class: "column-head" }, h2(null, "review"),
        tap({ key: "again", words: "look again", act: () => this.load() }),
        a({ key: "paper", class: "press", href: "/sheet/review" }, "print it")),
      this.trouble ? p({ class: "form-wrong", role: "status" }, this.trouble) : null,
      this.made ? this.parts(this.made) : this.trouble ? null : p({ class: "fact", role: "status" }, "reading the journal …"),
    );
  }

  /** @param {Review} r */
  parts(r) {
    return [
      p({ class: "fact" }, `as of ${hour(r.at)}, from the first line of the journal. It shows what to talk about; it blocks nothing.`),
      card("whole", [b(null, "the whole event: "), countWords(r.whole)]),
      this.list("turnarounds", [...r.turnarounds].reverse().map((t) => [
        b(null, `${t.name} ${hour(t.from)}${t.to ? ` to ${hour(t.to)}` : ""}`),
        `: ${t.readyAt ? `signed ready ${hour(t.readyAt)} by ${t.readyBy}` : "not signed"}. ${countWords(t)}`])),
      this.list("sheets answered faster than they can be read", r.fast.map((f) => [
        b(null, `${f.name}, ${listWords[f.list].toLowerCase()}`),
        ` ${hour(f.at)}, ${f.by.join(", ")}: ${f.lines} lines after the first in ${Math.round(f.sec)} s; ` +
          `reading them takes ${Math.ceil(f.readSec)} s`]),
        "at 300 words a minute, the upper end of what most adults read (Brysbaert 2019)"),
      this.list("overrides", r.overrides.map((o) => [
        b(null, `${o.owner}, ${o.name}`),
        ` ${hour(o.at)} by ${o.by} and ${o.second}${o.on ? `, with a PIN set on one device with ${o.on}` : ""}: ${o.reason}. ` +
          `${o.taken ? `${o.owner} read it ${hour(o.taken)}` : `${o.owner} has not read it`}`])),
      this.list("relaxed settings", r.relaxed.map((x) => [b(null, x.text), ` from ${hour(x.from)} ${x.to ? `to ${hour(x.to)}` : "on"}`])),
      this.list("alarms by person", r.alarms.people.map((o) => [
        b(null, o.who), `: ${o.total}; at most ${o.most} in any 10 min, from ${hour(o.mostAt)}; ` +
          `${o.mean.toFixed(2)} in 10 min on average`]),
        `about ${r.alarms.targets.mean} in 10 min is very likely acceptable, ${r.alarms.targets.flood} are a flood (EEMUA 191, ` +
          `as quoted). Counted by a look every ${r.alarms.stepSec} s`),
      this.list("alarms by class", r.alarms.classes.map((c) => [b(null, c.class), `: ${c.count}, ${c.percent} %; aimed at ${c.target} %`])),
      this.list("tags left on", r.tags.map((g) => [
        b(null, `${g.person}, ${g.name}`),
        ` on ${hour(g.on)}, ${g.off ? `off ${hour(g.off)}${g.override ? " by an override" : ""}` : "still on"}; ` +
          `owner quiet for ${minutes(g.quietSec)}`])),
      this.list("what came late, or from paper", r.late.map((l) => [
        b(null, `${l.name}${l.list ? `, ${listWords[l.list].toLowerCase()}` : ""}`),
        ` ${l.by} ${hour(l.at)}, heard ${hour(l.heard)}${l.paper ? ", from paper" : ""}: ${l.ask}`])),
      this.list("what was made to ask less", r.loosened.map((l) => [
        b(null, l.number ? `${l.number} ${l.job}, ${l.name}` : l.name),
        ` ${hour(l.at)}${l.until ? ` to ${hour(l.until)}` : ""} by ${l.by}: ${l.what}. Why: ${l.reason}`])),
      this.list("answers that are marked", r.marked.map((m) => [
        b(null, `${m.name}${m.list ? `, ${listWords[m.list].toLowerCase()}` : ""}`), 
        ` ${hour(m.at)}${m.by ? ` by ${m.by}` : ""}: ${m.what}${m.on ? ` with ${m.on}` : ""}. ${m.ask}`])),
      this.list("work that no verified lockout covered", r.uncovered.map((u) => [
        b(null, `${u.number} ${u.job}, ${u.name}`),
        ` from ${hour(u.at)}: ${minutes(u.sec)}; ` +
          `${u.when ? `looked at again ${hour(u.when)} by ${u.by}` : "nobody has looked at it again yet"}`])),
    ];
  }

  /** @param {string} title @param {Children[]} rows @param {string} [note] */
  list(title, rows, note) {
    return div({ class: "list", key: title },
      h2(null, title),
      note ? p({ class: "fact" }, note) : null,
      rows.length ? rows.map((row, i) => card(String(i), row)) : p({ class: "fact" }, "none in the journal"));
  }
}

/** @param {string} key @param {Children} words */
const card = (key, words) => div({ class: "card", key }, p(null, words));
