// Captain and designer: what the day cost, what eats it, and whether another
// construction would have been cheaper and quicker. The server works it all out.

import { a, b, div, h2, h3, input, label, option, p, select, span, table, tap, tbody, td, th, thead, tr } from "../core/tags.js";
import { minuteWords } from "../core/clock.js";
import { byName } from "../core/screen.js";
import { money as inCurrency } from "../core/words.js";
import { bar, chanceStrip, rangePlot, ratioStrip } from "./plots.js";

/** @typedef {import("./captain.js").Captain} Captain */
/** @typedef {import("../core/wire.d.ts").Debrief} Account */
/** @typedef {import("../core/wire.d.ts").DebriefSection} Section */
/** @typedef {import("../core/wire.d.ts").DebriefBill} Bill */
/** @typedef {import("../core/wire.d.ts").DebriefSpend} Spend */
/** @typedef {import("../core/wire.d.ts").DebriefShare} Ranked */
/** @typedef {import("../core/wire.d.ts").DebriefCompared} Compared */
/** @typedef {import("../core/tags.js").Children} Children */

/** How long the slider rests before the server is asked. */
const REST_MS = 250;

/** @type {Record<Spend, string>} */
const spends = {
  "making-safe": "making safe", finding: "finding", "wait-part": "waiting for a part", "wait-person": "waiting for a person",
  "wait-station": "waiting for a station", "wait-other": "waiting for else", fixing: "fixing", checking: "checking",
};

/** An amount in a table whose head says the currency. */
const bare = (/** @type {number} */ cents) => (cents / 100).toFixed(2);
/** @typedef {(cents: number) => string} Money */
const minutes = (/** @type {number} */ sec) => minuteWords(sec, "work");
const percent = (/** @type {number} */ share) => `${Math.round(100 * share)} %`;
/**
 * A range in words, one figure where it has no spread.
 * @param {import("../core/wire.d.ts").DebriefRange} range
 * @param {(n: number) => string} words
 */
const spread = (range, words) => (words(range.p10) === words(range.p90)
  ? words(range.p50)
  : `${words(range.p50)} (${words(range.p10)} to ${words(range.p90)})`);
const times = (/** @type {number | undefined} */ n) => (n === undefined ? "–" : n.toFixed(2));

/** A measure in words, "–" where it has no value. @param {import("../core/wire.d.ts").DebriefFigure} f @param {Money} money */
function figure(f, money) {
  if (f.value === undefined) return "–";
  if (f.unit === "s") return minutes(f.value);
  if (f.unit === "cents") return money(f.value);
  return f.unit === "share" ? percent(f.value) : `${f.value.toFixed(2)} ${f.unit}`;
}

/** The account of the day, asked of the server when this list is shown. */
export class DayDebrief {
  /** @type {Account | null} */
  made = null;
  trouble = "";
  asked = false;
  /** How much of the damage reaches another construction, and the robot looked at, "" for all. */
  moves = 1;
  robot = "";
  /** What may be brought next time: kilograms and money, 0 for no limit, over so many fights a robot. */
  next = { fights: 5, kg: 40, money: 0 };
  /** What someone thinks a fight takes, by the spare's name; and the one being stated. @type {Map<string, number>} */
  guesses = new Map();
  guess = "";
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  #rest;
  /** The newest question: an older one's answer is dropped. */
  #question = 0;

  /** @param {Captain} captain */
  constructor(captain) {
    this.captain = captain;
  }

  async load() {
    this.asked = true;
    this.trouble = "";
    const question = ++this.#question;
    this.captain.redraw();
    const answer = await fetch(`/api/debrief?${this.asks()}`).catch(() => null);
    const said = await answer?.json().catch(() => null);
    if (question !== this.#question) return;
    if (answer?.ok) this.made = said;
    else this.trouble = said?.refusal?.sentence ?? "The board did not answer. Try again when it is back.";
    this.captain.redraw();
  }

  asks() {
    const { fights, kg, money } = this.next;
    const asks = new URLSearchParams({
      moves: String(this.moves), fights: String(fights), grams: String(Math.round(kg * 1000)), cents: String(Math.round(money * 100)),
    });
    for (const [spare, perFight] of this.guesses) asks.append("guess", `${spare}=${perFight}`);
    return asks.toString();
  }

  /** @param {number} moves */
  move(moves) {
    this.moves = moves;
    this.later();
  }

  /** Asks when the hand rests. */
  later() {
    clearTimeout(this.#rest);
    this.#rest = setTimeout(() => this.load(), REST_MS);
    this.captain.redraw();
  }

  stop() {
    clearTimeout(this.#rest);
    this.#question++;
  }

  view() {
    if (!this.asked) queueMicrotask(() => this.load());
    return div(
      { class: "debrief" },
      div({ class: "column-head" }, h2(null, "what it cost"),
        tap({ key: "again", words: "look again", act: () => this.load() }),
        a({ key: "paper", class: "press", href: `/api/debrief?as=page&${this.asks()}` }, "print it")),
      this.trouble ? p({ class: "form-wrong", role: "status" }, this.trouble) : null,
      this.made ? this.account(this.made) : this.trouble ? null : p({ class: "fact", role: "status" }, "reading the journal …"),
    );
  }

  /** In the event's currency. @type {Money} */
  money = (cents) => inCurrency(this.captain.board, cents);

  /** @param {Account} made */
  account(made) {
    const { money } = this;
    const unit = made.currency ? `, ${made.currency}` : "";
    const section = made.robots.find((r) => r.robot === this.robot) ?? made.all;
    const about = (/** @type {{robot?: string}} */ x) => section === made.all || x.robot === section.robot;
    return [
      div({ class: "filter", key: "who" }, [made.all, ...made.robots].map((r) =>
        tap({
          key: r.robot ?? "all", class: r === section ? "here" : "", words: r.name,
          act: () => { this.robot = r.robot ?? ""; this.captain.redraw(); },
        }))),
      p({ class: "lead headline", key: "headline" }, b(null, section.headline)),
      div({ class: "debrief-parts", key: "parts" },
        this.billView(section, made.lines),
        timesView(section),
        made.compared.filter(about).map((c) => this.comparedView(c, unit)),
        rankings(section, money),
        creepsView(section),
        callsView(section.called, made.calls.filter(about), section === made.all ? made.chances : undefined),
        billsView("fight", made.fights.filter(about), unit),
        billsView("hit", made.hits.filter(about), unit),
        figuresView(section, money),
        this.bringView(made),
        afterView(made, money),
        part("reads", "how to read it", made.reads.map((words, i) => p({ key: i, class: "fact" }, words)))),
    ];
  }

  /** @param {Section} s @param {number} lines */
  billView(s, lines) {
    const { money } = this;
    const bill = s.bill;
    const kinds = /** @type {Spend[]} */ (Object.keys(spends)).filter((kind) => (bill.sec?.[kind] ?? 0) > 0);
    const most = Math.max(...kinds.map((kind) => bill.sec?.[kind] ?? 0), 1);
    return part("bill", `the bill: ${s.name}`,
      p({ class: "lead" }, b(null, money(bill.listCents)), " at list price, ", b(null, money(bill.paidCents)), " paid",
        bill.listShare === undefined ? "" : `, ${times(bill.listShare)} and ${times(bill.paidShare)} of the other construction`,
        bill.leadDays ? `; the longest part takes ${bill.leadDays} days to come` : ""),
      p({ class: "fact" },
        `material ${money(bill.materialListCents)}, machining ${money(bill.machiningListCents)}; ${minutes(bill.workSec)} of work, ` +
          `${minutes(bill.waitSec)} of waiting; ${bill.damages} damages, ${bill.foundLater} found later`),
      rows(kinds.map((kind) =>
        [spends[kind], bar(bill.sec?.[kind] ?? 0, most, minutes(bill.sec?.[kind] ?? 0))])),
      (bill.leftOff ?? []).map((words) => p({ key: words, class: "fact" }, `left off: ${words}`)),
      p({ class: "hint" }, `from ${lines} journal lines; clock minutes, by IEC 60050-192`));
  }

  /** @param {Compared} c @param {string} unit */
  comparedView(c, unit) {
    const longest = Math.max(c.built.sec.p90, c.other.sec.p90);
    const dearest = Math.max(c.built.moneyCents.p90, c.other.moneyCents.p90);
    const line = (/** @type {import("../core/wire.d.ts").DebriefOutcome} */ o) => tr({ key: o.name },
      th({ scope: "row" }, o.name, o.guessed ? span({ class: "hint" }, " (guessed)") : null),
      td(null, rangePlot(o.sec, longest, `minutes ${minutes(o.sec.p10)} to ${minutes(o.sec.p90)}`), span(null, spread(o.sec, minutes))),
      td(null,
        rangePlot(o.moneyCents, dearest, `money ${bare(o.moneyCents.p10)} to ${bare(o.moneyCents.p90)}${unit}`),
        span(null, spread(o.moneyCents, bare))),
      td({ class: "n" }, o.missed.toFixed(1)),
      td({ class: "n" }, `${(o.massGrams / 1000).toFixed(1)} kg`));
    const id = `moves-${c.robot}-${c.other.name}`;
    return part(id, `${c.name}: ${c.built.name} or ${c.other.name}?`,
      p({ class: "lead verdict" }, b(null, c.verdict)),
      wide(
        "the two constructions",
        "constructions",
        thead(null,
          tr(null,
            th(null, "construction"),
            th(null, "minutes, 1 to 9 in 10"),
            th(null, `money${unit}, 1 to 9 in 10`),
            th({ class: "n" }, "calls missed"),
            th({ class: "n" }, "mass"))),
        tbody(null, line(c.built), line(c.other)),
      ),
      div({ class: "moves" },
        label({ for: id }, `how much of the damage reaches ${c.other.name}: ${percent(this.moves)}`),
        input({
          id, type: "range", min: "0", max: "2", step: "0.1", value: String(this.moves),
          onInput: (/** @type {any} */ e) => this.move(Number(e.target.value)),
        })),
      p({ class: "assumes" }, c.assumes),
      c.condition ? p(null, c.condition) : null,
      p({ class: "hint" }, c.gap),
      c.outside?.length ? p({ class: "hint" }, `left out, as only one of the two has it: ${c.outside.join(", ")}`) : null);
  }

  /** A demand that someone states, for spares of which the record knows little. */
  guessView() {
    const spares = byName(this.captain.board.all("stock").filter((k) => !k.retired));
    const state = (/** @type {any} */ e) => {
      if (!this.guess || !e.target.validity.valid) return;
      if (e.target.value === "") this.guesses.delete(this.guess);
      else this.guesses.set(this.guess, Number(e.target.value));
      this.later();
    };
    return [
      div({ class: "limits" },
        label({ key: "spare" },
          "your own guess for",
          select({ value: this.guess, onChange: (/** @type {any} */ e) => { this.guess = e.target.value; this.captain.redraw(); } },
            option({ value: "" }, "choose a spare"), spares.map((k) => option({ key: k.id, value: k.name }, k.name)))),
        label({ key: this.guess || "none" },
          "taken a fight, empty for no guess",
          input({
            type: "number", min: "0", max: "20", step: "any", disabled: !this.guess, value: String(this.guesses.get(this.guess) ?? ""),
            onInput: state,
          }))),
      this.guesses.size
        ? p({ class: "fact" },
          `guessed, each worth 3 fights of record: ${[...this.guesses].map(([spare, n]) => `${spare} ${n} a fight`).join(", ")}`)
        : null,
    ];
  }

  /** @param {Account} made */
  bringView({ bring, currency }) {
    const field = (/** @type {"fights" | "kg" | "money"} */ name, /** @type {string} */ words, /** @type {number} */ most) =>
      label({ key: name }, words,
        input({
          type: "number", min: name === "money" ? "0" : "1", max: String(most), value: String(this.next[name]),
          onInput: (/** @type {any} */ e) => {
            if (!e.target.validity.valid || e.target.value === "") return;
            this.next = { ...this.next, [name]: Number(e.target.value) };
            this.later();
          },
        }));
    return part("bring", "what to bring next time",
      div({ class: "limits" },
        field("fights", "fights a robot", 30),
        field("kg", "kilograms at most", 1000),
        field("money", `money at most${currency ? `, ${currency}` : ""}, 0 for no limit`, 1000000)),
      this.guessView(),
      bring.rows.length === 0 ? p({ class: "fact" }, "no spare was asked for yet") : [
        p({ class: "lead" },
          `${percent(bring.exact.chance)} that no call is missed for want of a spare, with ${(bring.exact.massGrams / 1000).toFixed(1)} ` +
            `kg and ${this.money(bring.exact.listCents)} more spent`),
        p({ class: "fact" },
          `piece by piece ${percent(bring.greedy.chance)}, with what is in the box ${percent(bring.have.chance)}, ` +
            `with nothing ${percent(bring.noneChance)}` +
            `${bring.lastKilogram === undefined ? "" : `; the last kilogram bought ${percent(bring.lastKilogram)} of it`}`),
        wide("what to bring", "bills", thead(null,
          tr(null,
            ["spare", "bring", "have", "a fight", "n fights", "the last one, in fights: now / kept for the final"].map((words, i) =>
              th({ key: words, class: i ? "n" : "" }, words)))),
          tbody(null, bring.rows.map((row) => tr({ key: row.stock }, th({ scope: "row" }, row.name),
            [
              String(row.exact),
              String(row.have),
              row.perFight.toFixed(2),
              String(row.n),
              row.last ? `${times(row.last.now)} / ${times(row.last.keep)}` : "",
            ].map((words, k) => td({ key: k, class: "n" }, words)))))),
      ]);
  }
}

/** @param {string} key @param {string} title @param {Children[]} children */
const part = (key, title, ...children) => div({ class: "part", key }, h3(null, title), ...children);

/** A table that scrolls by itself where the page is narrow. @param {string} words @param {string} cls @param {Children[]} children */
const wide = (words, cls, ...children) =>
  div({ class: "wide", tabIndex: 0, role: "group", "aria-label": words }, table({ class: cls }, ...children));

/** @param {Children[][]} list */
const rows = (list) => (list.length
  ? table({ class: "bars" },
    tbody(null,
      list.map((cells, i) => tr({ key: i },
        cells.map((cell, k) => (k === 0 ? th({ key: k, scope: "row" }, cell) : td({ key: k, class: k > 1 ? "n" : "" }, cell)))))))
  : null);

/** What eats the day: the longest eight of each ranking. @param {Section} s @param {Money} money */
function rankings(s, money) {
  const count = (/** @type {number} */ n) => `${n} ${n === 1 ? "fight" : "fights"}`;
  const lists = /** @type {[string, Ranked[], (n: number) => string][]} */ ([
    ["parts by minutes of work and waiting", s.byMinutes, minutes], ["parts by list price of what they took", s.byMoney, money],
    ["parts by fights damaged in", s.byRepeat, count], ["joints by fights damaged in", s.byJoint ?? [], count],
  ]);
  return lists.filter(([, list]) => list.length > 0).map(([title, list, words]) => part(title, title,
    rows(list.slice(0, 8).map((x) =>
      [x.name, bar(x.amount, list[0].amount, words(x.amount)), `${percent(x.cumulative)} so far`, `n ${x.n}`]))));
}

/** What bends more from hit to hit. @param {Section} s */
function creepsView(s) {
  if (!s.creeps?.length) return null;
  return part("bent", "bent, measured more than once",
    table({ class: "bars" }, tbody(null, s.creeps.map((c) => tr({ key: c.name },
      th({ scope: "row" }, c.name),
      td(null, c.says),
      td({ class: "n" }, `${c.mmPer100 > 0 ? "+" : ""}${c.mmPer100.toFixed(2)}`, c.past ? b(null, " past its limit") : null))))));
}

/** Estimate against actual. @param {Section} s */
function timesView(s) {
  const jobs = s.jobs.filter((j) => j.actualSec > 0 && j.likelySec > 0);
  if (jobs.length === 0) return null;
  const longer = jobs.filter((j) => j.actualSec > j.badSec);
  return part("times", "times taken, over the likely time",
    ratioStrip(
      jobs.map((j) => ({ ratio: j.actualSec / j.likelySec, open: Boolean(j.open) })),
      `${jobs.length} jobs: time taken over likely time`,
    ),
    p({ class: "fact" },
      `n ${jobs.length} jobs, hands on, from the journal. A dot is a finished job; a ring with a stroke is unfinished and would have ` +
        `taken longer.`),
    longer.map((j) => p({ key: j.job, class: "fact" },
      `${j.number} ${j.name}: ${minutes(j.actualSec)}${j.open ? " and not finished" : ""}, ` +
        `said ${minutes(j.likelySec)} / ${minutes(j.badSec)}`)));
}

/**
 * Chance against outcome.
 * @param {string} said @param {import("../core/wire.d.ts").DebriefCalled[]} calls @param {Account["chances"]} chances
 */
function callsView(said, calls, chances) {
  return part("calls", "chances that were given, against what came",
    p(null, b(null, said)),
    calls.length
      ? [
        chanceStrip(calls, said),
        p({ class: "fact" },
          "A dot above the line is a call that was met, a ring below it one that was missed. " +
            "Along: on how many of 10 such days it would be met, as it was shown half an hour before."),
      ]
      : null,
    rows(calls.map((c) => [c.name, `${c.of10} of 10`, c.met ? "call met" : "call missed"])),
    chances
      ? p({ class: "fact" },
        `mean squared error ${chances.brier.toFixed(3)}, n ${chances.n} calls, 0 is best; ` +
          `the same chance for all would get ${chances.always.toFixed(3)}`)
      : p({ class: "fact" }, "how good the chances are is said from 10 calls on"));
}

/** What was spent on a bill, "–" where nothing was used up. @param {Bill} bill @param {string} words */
const spent = (bill, words) => (bill.listCents + bill.paidCents === 0 ? "–" : words);

/** @param {"fight" | "hit"} by @param {Bill[]} all @param {string} unit */
function billsView(by, all, unit) {
  const list = all.filter((bill) => !bill.quiet);
  const quiet = all.length - list.length;
  if (all.length === 0) return null;
  return part(by, `bills by ${by}`,
    list.length
      ? wide(`bills by ${by}`, "bills", thead(null,
        tr(null,
          [by, `list${unit}`, `paid${unit}`, "share, list / paid", "work", "wait", "lead days", "damages (later)"].map((words, i) =>
            th({ key: words, class: i ? "n" : "" }, words)))),
        tbody(null, list.map((bill, i) => tr({ key: i },
          th({ scope: "row" },
            bill.name,
            by === "hit" ? (bill.leftOff ?? []).map((words) => span({ key: words, class: "hint left-off" }, `left off: ${words}`)) : null),
          [
            spent(bill, bare(bill.listCents)),
            spent(bill, bare(bill.paidCents)),
            bill.listShare === undefined ? "–" : spent(bill, `${times(bill.listShare)} / ${times(bill.paidShare)}`),
            minutes(bill.workSec),
            minutes(bill.waitSec),
            spent(bill, String(bill.leadDays)),
            `${bill.damages} (${bill.foundLater})`,
          ].map((words, k) => td({ key: k, class: "n" }, words)))))) : null,
    quiet ? p({ class: "fact" }, `nothing else was worked on: ${quiet} more with no money, no damage and under 2 minutes`) : null);
}

/** @param {Section} s @param {Money} money */
const figuresView = (s, money) => part("figures", "measures",
  wide(
    "measures",
    "figures",
    tbody(null,
      s.figures.map((f) => tr({ key: f.name },
        th({ scope: "row" }, f.name),
        td({ class: "n" }, figure(f, money)),
        td({ class: "n" }, `n ${f.n}`),
        td({ class: "hint" }, f.trap ? `${f.of}; ${f.trap}` : f.of)))),
  ));

/** @param {Account} made @param {Money} money */
function afterView({ after }, money) {
  const list = [
    ...after.shop.map((x) => `get ${x.pieces} of ${x.name}: ${money(x.listCents)}, ${x.leadDays} days to come`),
    ...after.loans.map((x) => `give back ${x.left} of ${x.name} to ${x.from}; ${x.taken} used up`),
    ...after.packs.map((x) => `pack ${x.name}: ${x.do}`),
  ];
  return list.length ? part("after", "afterwards", list.map((words) => p({ key: words, class: "fact" }, words))) : null;
}
