// Wall: the pit's monitor, read from 4 m. A band a robot in the order of the calls,
// the packs and the alarms under them. Every size follows from the screen's
// diagonal and the reader's distance, asked once.

import { Bell } from "../core/bell.js";
import { age, b, button, div, footer, form, h1, header, hourNow, input, label, p, render, section, span } from "../core/tags.js";
import { EDGE_PX, NEAR, band, shares } from "./band.js";
import { axis, sharedSpan } from "./lane.js";
import { fitCard } from "./card.js";
import { alarmClass, alarmsOf, classMarks, classWords, relaxed } from "../core/screen.js";
import { count, nameOf, robotOf } from "../core/words.js";

/** @typedef {import("../core/ctx.d.ts").Ctx} Ctx */
/** @typedef {import("../core/wire.d.ts").PackView} PackView */
/** @typedef {import("../core/wire.d.ts").Alarm} Alarm */
/** @typedef {{inches: number, metres: number}} Seen */

const PAGE_SEC = 10;
const REDRAW_SEC = 5;
/** From this age on the wall says as of when it is. */
const STALE_SEC = 20;
/** What goes, one after the other, as it gets tight: two lines an alarm, an alarm, what is relaxed, the packs. */
const drops = [
  { most: 3, roomy: true, printed: true, packs: true }, { most: 3, roomy: false, printed: true, packs: true },
  { most: 2, roomy: false, printed: true, packs: true }, { most: 2, roomy: false, printed: false, packs: true },
  { most: 1, roomy: false, printed: false, packs: false },
];
/** Without a connection the alarms of then go too, before a robot does. */
const noFoot = { most: 0, roomy: false, printed: false, packs: false };
const LOST_SEC = 60;
const BAND_LINES_MOST = 7;
/** How many lines the foot has on a common day, and the farthest reader that is asked for. */
const FOOT_LINES = 4.3;
const MOST_METRES = 15;
/** While so few robots stand there, who is in one never folds: a band has the lines for it. */
const FEW = 3;
const LINES_OF_FEW = 3;
const LINES_OF_MANY = 2.25;
/** A band of fewer lines is cut: beside an emergency there is none then. */
const LEAST_LINES = 2;
/** The share of the height that alarms take beside the officials' card. */
const BESIDE_CARD = 0.4;
/** Capital height over font size, and the room a line takes. */
const CAPITAL = 0.7;
const LINE = 1.14;

/** CSS pixels in a minute of arc. @param {Seen} seen */
function pixelsPerMinute({ inches, metres }) {
  const width = Math.max(screen.width, innerWidth);
  const height = Math.max(screen.height, innerHeight);
  return (Math.hypot(width, height) / (inches * 25.4)) * metres * 1000 * Math.tan(Math.PI / 180 / 60);
}

/** @returns {Seen | null} */
function stored() {
  try {
    const seen = JSON.parse(localStorage.getItem("wall") ?? "null");
    return seen?.inches > 0 && seen?.metres > 0 ? seen : null;
  } catch {
    return null;
  }
}

/** @type {import("../core/ctx.d.ts").Mount} */
export function mount(root, ctx) {
  const { board, live, clock } = ctx;
  const bell = new Bell();
  const sheet = document.documentElement.style;
  let seen = stored();
  let setting = seen === null;
  const asked = { ...(seen ?? { inches: 43, metres: 4 }) };
  let page = 0;
  let sec = 0;

  function draw() {
    if (setting) return render(setUp(ctx, asked, keepSeen, bell, draw), root);
    const hurt = new Set(board.all("emergency").filter((e) => !e.endedAt).map((e) => e.robot));
    const robots = inOrder(ctx).sort((x, y) => Number(hurt.has(y.id)) - Number(hurt.has(x.id)));
    const size = seen ?? { inches: 43, metres: 4 };
    const letters = footLetters(root, size);
    const urgent = hurt.size > 0;
    const lines = urgent ? [] : printed(ctx);
    const few = robots.length <= FEW;
    const lost = live.stale >= LOST_SEC;
    const tries = (lost ? [...drops, noFoot] : drops).map((drop) => {
      const list = entries(ctx, letters, drop, urgent);
      const foot = (drop.packs && !urgent ? NEAR : 0) + list.reduce((sum, e) => sum + e.lines, 0)
        + Math.max(0, ...(drop.printed ? lines : []).map((x) => NEAR * printedRows(x, letters)));
      return { ...drop, list, foot, room: measure(root.clientHeight, foot, size, robots.length) };
    });
    const most = Math.max(...tries.map((t) => t.room.bands));
    const having = (/** @type {number} */ least) => tries.find((t) => t.room.bands === most && t.room.lines >= least);
    const beside = (/** @type {typeof tries[0]} */ t) => t.foot * t.room.line <= innerHeight * BESIDE_CARD;
    const as = (urgent && tries.find(beside)) || (having(LINES_OF_FEW) ?? having(2) ?? tries[tries.length - 1]);
    const { room, list } = as;
    const line = as.printed ? lines[page % lines.length] : undefined;
    const shown = (urgent || lost) && room.lines < LEAST_LINES ? [] : onPage(robots, room.bands, page);
    sheet.setProperty("--lines", String(room.lines));
    const long = sharedSpan(ctx, shown);
    const parts = shares(root.clientWidth, room.em);
    sheet.setProperty("--who", `${100 * parts.who}%`);
    sheet.setProperty("--lane", `${100 * parts.lane}%`);
    const near = { em: room.em * NEAR, line: room.line * NEAR, width: root.clientWidth * parts.lane, height: 0, span: long };
    render(
      div({ class: "board" },
        head(ctx, bell, robots.length - shown.length, () => { setting = true; draw(); }, draw),
        div({ class: "axis-row near" },
          p({ class: "on-now" }, onNow(board, (root.clientWidth * parts.who - EDGE_PX) / (0.62 * near.em))),
          shown.length && parts.lane ? axis(ctx, near) : null,
          shown.length ? div({ class: "heads" }, span(null, "min to call"), parts.lane ? span(null, "hands-on") : null) : null),
        div({ class: room.lines > 2 ? "bands" : "bands tight" },
          robots.length === 0 ? p({ class: "empty" }, "No robots on the board yet.") : null,
          shown.map((robot) => band(ctx, robot, { ...room, width: root.clientWidth, span: long, few, ...parts }))),
        footer(null,
          urgent || !as.packs ? null : packsLine(ctx, Math.floor(letters / NEAR)),
          line ? printedLine(line, letters) : null,
          list.map(entryLine))),
      root);
    fitCard(root);
  }

  /** @param {Seen} next */
  function keepSeen(next) {
    seen = next;
    localStorage.setItem("wall", JSON.stringify(seen));
    size();
    setting = false;
    draw();
  }

  function size() {
    if (seen) sheet.setProperty("--am", String(pixelsPerMinute(seen)));
  }

  function second() {
    sec++;
    if (sec % PAGE_SEC === 0) page++;
    if (sec % REDRAW_SEC === 0) draw();
    bell.ring(board.entries("alarm"), clock.now());
  }

  const resized = new ResizeObserver(() => {
    size();
    draw();
  });
  size();
  resized.observe(root);
  const stops = [board.subscribe(draw), live.onStatus(draw), clock.each(second), () => resized.disconnect()];
  draw();
  return () => {
    for (const stop of stops) stop();
    bell.stop();
    sheet.removeProperty("--am");
    render(null, root);
  };
}

/**
 * How much fits: bands on a page, lines in a band; a line's height and font size.
 * @param {number} height @param {number} footLines @param {Seen} seen @param {number} robots
 */
function measure(height, footLines, seen, robots) {
  const am = pixelsPerMinute(seen);
  const em = (16 * am) / CAPITAL;
  const line = em * LINE;
  const pad = 2 * am;
  const left = height - line * (1 + NEAR + footLines) - pad;
  const least = robots <= FEW ? LINES_OF_FEW : LINES_OF_MANY;
  const bands = Math.max(1, Math.min(robots, Math.floor(left / (least * line + pad))));
  return { bands, lines: Math.min(BAND_LINES_MOST, Math.floor((left / bands - pad) / line)), line, em };
}

/** The robots by their calls, the soonest first; those without a call last. @param {Ctx} ctx */
function inOrder({ board }) {
  const callOf = (/** @type {string} */ id) => {
    const call = board.get(`call/${id}`);
    return call?.callAt && call.flag !== "no-call" ? call.callAt.median : "~";
  };
  return board.all("robot").filter((r) => !r.retired && !r.withdrawn)
    .sort((x, y) => (callOf(x.id) < callOf(y.id) ? -1 : callOf(x.id) > callOf(y.id) ? 1 : x.number - y.number));
}

/**
 * What fits: the soonest call always, the others in turn.
 * @template T
 * @param {T[]} robots @param {number} room @param {number} page
 */
function onPage(robots, room, page) {
  if (robots.length <= room) return robots;
  const [first, ...rest] = robots;
  const step = Math.max(1, room - 1);
  const at = (page % Math.ceil(rest.length / step)) * step;
  return [first, ...rest.slice(at, at + step)].slice(0, room);
}

/**
 * @param {Ctx} ctx
 * @param {Bell} bell
 * @param {number} more robots that are shown in turn
 * @param {() => void} set
 * @param {() => void} redraw
 */
function head({ live, clock }, bell, more, set, redraw) {
  return header(null,
    h1({ class: "unseen" }, "The board"),
    button({ class: "hour", type: "button", onClick: set }, hourNow({}), span({ class: "unseen" }, ", set this screen up")),
    span({ class: "near" }, live.stale >= STALE_SEC ? `clock as of ${clock.hhmm(live.heardAt)}` : age({})),
    bell.on
      ? null
      : button({ class: "sound near", type: "button", title: "tap to allow sound", onClick: () => bell.allow().then(redraw) }, "SOUND OFF"),
    more ? span({ class: "only near" }, `+ ${more}`) : null);
}

/** Which fight was last said to be on, in each arena. @param {import("../core/board.js").Board} board @param {number} letters */
function onNow(board, letters) {
  /** @type {Map<string, import("../core/wire.d.ts").Sighting>} */
  const last = new Map();
  for (const x of board.all("sighting")) if (!last.has(x.arena) || (last.get(x.arena)?.at ?? "") < x.at) last.set(x.arena, x);
  const parts = [...last.values()].sort((x, y) => x.arena.localeCompare(y.arena)).map((x) => `${x.arena} ${x.number}`);
  return parts.length ? `ON ${asManyAsFit(parts, letters - 3)}` : "";
}

/** Width of a letter in the foot over the font size, bold ones among them; what stands beside the words. */
const FOOT_LETTER = 0.585;
const FOOT_PX = 90;

/** How many letters a line of the foot takes. @param {HTMLElement} root @param {Seen} seen */
const footLetters = (root, seen) => Math.floor((root.clientWidth - FOOT_PX) / (FOOT_LETTER * (16 * pixelsPerMinute(seen)) / CAPITAL));

/**
 * One entry of the foot, as long as it fits.
 * @typedef {{id: string, alarm: Alarm, n: number, subject: string, about: string, act: string, lines: number}} Entry
 */

/**
 * One entry a robot, class A apart and before B; class C when there is no other.
 * @param {Ctx} ctx @param {number} letters room of a line @param {{most: number, roomy: boolean}} drop
 * @param {boolean} people only what is about people: an emergency takes the room
 * @returns {Entry[]}
 */
function entries(ctx, letters, { most, roomy }, people) {
  const urgent = alarmsOf(ctx, people ? "A" : "AB");
  /** @type {Map<string, {id: string, alarm: Alarm, n: number}>} */
  const byRobot = new Map();
  for (const { id, alarm } of urgent.length || people ? urgent : alarmsOf(ctx, "C")) {
    const at = `${alarm.class === "A" ? "A" : ""}${alarm.robot ?? id}`;
    const entry = byRobot.get(at);
    if (entry) entry.n++;
    else byRobot.set(at, { id, alarm, n: 1 });
  }
  const list = [...byRobot.values()];
  const more = list.length - most;
  return list.slice(0, most).map((e, i) => {
    const last = i === most - 1 && more > 0 ? ` · and ${more} more` : "";
    return { ...e, ...wording(ctx, e.alarm, `${e.n > 1 ? ` (${e.n})` : ""}${last}`, letters, roomy) };
  });
}

/**
 * The robot, or what it is about; then, small and as far as it fits, what is wrong; then
 * who acts and how, or who has taken it. No line goes without its subject.
 * @param {Ctx} ctx @param {Alarm} alarm @param {string} rest @param {number} letters @param {boolean} roomy
 */
function wording({ board, clock }, alarm, rest, letters, roomy) {
  const what = alarm.what.replace(/\.$/, "");
  const robot = alarm.robot ? robotOf(board, alarm.robot) : "";
  const taken = alarm.takenBy ? `taken by ${nameOf(board, alarm.takenBy)} ${clock.hhmm(alarm.takenAt)}` : "";
  const subject = robot || what;
  const about = robot ? what.replace(new RegExp(`^${robot.replace(/\W/g, "\\$&")} `), "") : "";
  const tries = [
    { about, act: taken ? `${alarm.act} · ${taken}` : alarm.act }, { about: "", act: taken ? `${alarm.act} · ${taken}` : alarm.act },
    { about: "", act: taken || alarm.act },
  ];
  const length = (/** @type {{about: string, act: string}} */ t) =>
    classWords[alarm.class].length + 3 + subject.length + t.about.length * NEAR + t.act.length + rest.length;
  const rows = alarm.class === "A" || roomy ? 2 : 1;
  // A line that breaks between words is never quite full.
  const fit = tries.find((t) => length(t) <= (rows === 1 ? letters : 1.9 * letters - 4)) ?? tries[2];
  const lines = length(fit) <= letters ? (alarm.class === "A" ? 2 : 1) : Math.ceil((length(fit) + 4) / (0.93 * letters));
  return { subject, about: fit.about, act: fit.act + rest, lines };
}

/** @param {Entry} e */
const entryLine = (e) => p({ key: e.id, class: `${alarmClass(e.alarm)}${e.lines > 1 ? " two" : ""}`, style: { "--rows": e.lines } },
  span({ class: classMarks[e.alarm.class], "aria-hidden": "true" }),
  span({ class: "what" },
    span({ class: "class" }, classWords[e.alarm.class]), " ",
    b(null, e.subject), e.about ? [" ", span({ class: "near" }, e.about)] : null, " – ", b(null, e.act)));

/**
 * The packs: how many are ready, then those that are not: first what comes too late for a next
 * fight or was stopped, what is set aside and what no robot drives without; as many as fit.
 * @param {Ctx} ctx
 * @param {number} letters
 */
function packsLine(ctx, letters) {
  const views = ctx.board.all("packview");
  const shared = (/** @type {PackView} */ v) => ["transmitter", "tool"].includes(ctx.board.get(`pack/${v.pack}`)?.use ?? "");
  const ready = views.filter((v) => v.word === "ready").length;
  const stopped = (/** @type {PackView} */ v) => Boolean(ctx.board.get(`pack/${v.pack}`)?.stopped);
  const unread = views.filter((v) => v.word === "unread" && !shared(v) && !stopped(v)).length;
  const rank = (/** @type {PackView} */ v) => (lateFor(ctx, v) || stopped(v)
    ? "/"
    : v.word.startsWith("SET ASIDE")
    ? "0"
    : shared(v)
    ? "1"
    : v.again
    ? "3"
    : v.readyAt
    ? `2${v.readyAt}`
    : "4");
  const named = views.filter((v) =>
    !["ready", "in robot", "gone", "storage"].includes(v.word) && (v.word !== "unread" || shared(v) || stopped(v)))
    .map((v) => ({ rank: rank(v), text: packText(ctx, v) }))
    .sort((x, y) => (x.rank + x.text < y.rank + y.text ? -1 : 1));
  const parts = [`ready ${ready}`, ...named.map((n) => n.text), ...(unread ? [`not read ${unread}`] : [])];
  return p({ class: "packs" }, span({ class: "class" }, "PACKS "), asManyAsFit(parts, letters - "PACKS ".length));
}

/** Whether a pack is too late for a robot's next fight in the bad case. @param {Ctx} ctx @param {PackView} v */
const lateFor = ({ board }, v) => board.all("fightpacks").some((f) =>
  f.late
    && board.get(`call/${f.robot}`)?.fight === f.fight
    && f.packs.some((k) => k.pack === v.pack && k.badAt && Date.parse(k.badAt) > Date.parse(f.by)));

/** A pack in few words: when it is ready, or what is to be done with it. @param {Ctx} ctx @param {PackView} v */
function packText(ctx, v) {
  const { board, clock } = ctx;
  const pack = board.get(`pack/${v.pack}`);
  const name = pack?.name ?? "?";
  if (pack?.stopped) return `${name} stopped, read`;
  if (lateFor(ctx, v)) return `${name} TOO LATE`;
  if (v.word.startsWith("SET ASIDE")) return `${name} SET ASIDE`;
  if (v.word === "unread") return `${name} not read`;
  if (v.readyAt && !v.again) return `${name} ${clock.hhmm(v.readyAt)}`;
  return v.again && v.word !== "charging" ? `${name} ${v.word}, read` : `${name} ${v.word}`;
}

/** Parts in a row, the first ones first; those that do not fit are counted. @param {string[]} parts @param {number} letters */
function asManyAsFit(parts, letters) {
  const shown = parts.slice(0, 1);
  const more = (/** @type {number} */ n) => (n ? ` · +${n}` : "");
  for (const [i, part] of parts.entries()) {
    const left = parts.length - shown.length - 1;
    if (i && [...shown, part].join(" · ").length + more(left).length <= letters) shown.push(part);
  }
  return shown.join(" · ") + more(parts.length - shown.length);
}

/**
 * What must be printed and asks for no act: what is relaxed, and what is put aside; in turn,
 * two lines where one is too short.
 * @param {Ctx} ctx
 * @returns {{word: string, text: string}[]}
 */
function printed(ctx) {
  const { board, clock } = ctx;
  const rules = relaxed(ctx);
  const aside = board.all("alarm").filter((x) => x.shelvedUntil).sort((x, y) => x.what.localeCompare(y.what));
  return [
    ...rules.map((text, i) => ({ word: rules.length > 1 ? `RELAXED ${i + 1}/${rules.length}` : "RELAXED", text })),
    ...aside.map((x) => ({ word: "SNOOZED", text: `until ${clock.hhmm(x.shelvedUntil)}, ${nameOf(board, x.shelvedBy)}: ${x.what}` })),
  ];
}

/** @param {{word: string, text: string}} line @param {number} letters */
const printedRows = ({ word, text }, letters) => (word.length + 1 + text.length > letters / NEAR ? 2 : 1);

/** @param {{word: string, text: string}} line @param {number} letters */
const printedLine = (line, letters) => p({ class: `printed${printedRows(line, letters) > 1 ? " two" : ""}` },
  span({ class: "what" }, span({ class: "class" }, line.word), ` ${line.text}`));

/** How many robots a screen like that shows at once, and from how far it shows them all. @param {Ctx} ctx @param {Seen} seen */
function fitsLine(ctx, seen) {
  const n = inOrder(ctx).length;
  if (!n || !(seen.inches > 0 && seen.metres > 0)) return "";
  const bands = (/** @type {number} */ metres) => measure(innerHeight, FOOT_LINES, { ...seen, metres }, n).bands;
  let far = MOST_METRES;
  while (far > 0.5 && bands(far) < n) far -= 0.5;
  return `${seen.inches}″ at ${seen.metres} m: ${bands(seen.metres)} of ${count(n, "robot")} at once. All up to ${far} m.`;
}

/**
 * Asks once how large the screen is and from where it is read.
 * @param {Ctx} ctx
 * @param {Seen} seen
 * @param {(s: Seen) => void} keep
 * @param {Bell} bell
 * @param {() => void} redraw
 */
function setUp(ctx, seen, keep, bell, redraw) {
  const dark = document.documentElement.dataset.scheme === "dark";
  return section({ class: "set-up" },
    h1(null, "Set this screen up"),
    p(null, "These two figures set every size, so that the wall can be read from where people stand."),
    form({
      onSubmit: (e) => {
        e.preventDefault();
        bell.allow();
        keep({ ...seen });
      },
    },
      label({ for: "inches" }, "Diagonal of the screen, inches"),
      input({
        id: "inches", type: "number", min: 5, max: 120, step: 0.5, required: true, value: seen.inches,
        onInput: (e) => { seen.inches = e.currentTarget.valueAsNumber; redraw(); },
      }),
      label({ for: "metres" }, "Farthest reader, metres"),
      input({
        id: "metres", type: "number", min: 0.3, max: 15, step: 0.1, required: true, value: seen.metres,
        onInput: (e) => { seen.metres = e.currentTarget.valueAsNumber; redraw(); },
      }),
      p({ class: "fits", role: "status" }, fitsLine(ctx, seen)),
      label(null,
        input({ type: "checkbox", checked: dark, onChange: (e) => ctx.setScheme(e.currentTarget.checked ? "dark" : "light") }),
        " Dark hall: light letters on dark"),
      p(null, "Turn the screen away from the lamps and set full brightness. This button also allows sound."),
      button({ class: "press main", type: "submit" }, "SHOW THE BOARD")));
}
