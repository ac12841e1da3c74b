// App: the page. It chooses the screen by role and hash, loads what that screen
// needs, and says what every screen must say: an emergency, and one that could not be
// sent, an old board, a board that takes no changes, a command that waited and was
// refused.

import { Board } from "./core/board.js";
import { clock } from "./core/clock.js";
import { hear } from "./core/heard.js";
import { reached, start } from "./core/live.js";
import { b, div, h2, p, render, rule, section, span, tap } from "./core/tags.js";
import { commandWords, handsOn, nameOf, placeOf, robotOf } from "./core/words.js";

/** @typedef {import("./core/ctx.d.ts").Ctx} Ctx */
/** @typedef {import("./core/ctx.d.ts").Mount} Mount */
/** @typedef {import("./core/wire.d.ts").Role} Role */
/** @typedef {{load: () => Promise<{mount: Mount, ahead?: () => Promise<unknown>}>, sheets: string[]}} Screen */

/** @type {Record<string, Screen>} */
const screens = {
  join: { load: () => import("./join.js"), sheets: [] },
  wall: { load: () => import("./wall/wall.js"), sheets: ["wall"] },
  me: { load: () => import("./phone/phone.js"), sheets: [] },
  robot: { load: () => import("./phone/phone.js"), sheets: [] },
  sheet: { load: () => import("./sheet/sheet.js"), sheets: [] },
  damage: { load: () => import("./phone/damage.js"), sheets: [] },
  captain: { load: () => import("./captain/captain.js"), sheets: ["captain"] },
};

/** Where each role begins. @type {Record<Role, string>} */
const home = { viewer: "#/wall", captain: "#/captain", crew: "#/me", safety: "#/me" };

/** What a phone may be asked for after its network is gone, and when it is fetched. */
const phoneNeeds = ["me", "sheet", "damage"];
/** The screens whose pages show by themselves what every screen must say. */
const framed = [...phoneNeeds, "robot"];
/** The screens that have a line for what was refused. */
const lined = [...framed, "captain"];
const AHEAD_MS = 2000;

/** @param {string} id */
const place = (id) => /** @type {HTMLElement} */ (document.getElementById(id));

const root = document.documentElement;
const board = new Board();
setScheme(localStorage.getItem("scheme") === "dark" ? "dark" : "light");
const live = start({ board });
const clearTalk = { timer: /** @type {ReturnType<typeof setTimeout> | undefined} */ (undefined) };

/** @type {Ctx} */
const ctx = { board, live, clock, go, say, setScheme, notices: noticesView };

/** @type {{name: string, unmount: ReturnType<Mount>} | null} */
let shown = null;
/** The screen last asked for: a slower one that arrives later is not shown. */
let wanted = "";
/** How many emergencies were not sent when this was last looked at. */
let stood = 0;

/** @param {string} hash */
function go(hash) {
  if (location.hash === hash) show();
  else location.hash = hash;
}

/** @param {"light" | "dark"} scheme */
function setScheme(scheme) {
  root.dataset.scheme = scheme;
  localStorage.setItem("scheme", scheme);
}

/** @param {string} sentence */
function say(sentence) {
  place("said").textContent = sentence;
  clearTimeout(clearTalk.timer);
  clearTalk.timer = setTimeout(() => (place("said").textContent = ""), 5000);
}

/** The hash's parts, with the role's own screen where it names none. */
function parts() {
  if (live.status === "ended") return ["join"];
  const asked = location.hash.startsWith("#/") ? location.hash : "";
  const first = home[live.role ?? "viewer"] ?? "#/me";
  const [name, ...rest] = (asked || first).slice(2).split("/");
  return name in screens && name !== "join" ? [name, ...rest] : first.slice(2).split("/");
}

/** Shows the screen that the hash and the session ask for. */
async function show() {
  const [name, ...args] = parts();
  const hash = [name, ...args].join("/");
  if (hash === wanted) return;
  if (name !== "join" && (!live.me || board.epoch === "")) return;
  wanted = hash;
  if (shown?.name === name && shown.unmount.turn) {
    shown.unmount.turn(name, ...args);
    return;
  }
  const screen = await loaded(screens[name]);
  if (wanted !== hash) return;
  shown?.unmount();
  const main = place("screen");
  render(null, main);
  main.replaceChildren();
  main.className = name;
  root.dataset.screen = name;
  shown = { name, unmount: screen.mount(main, ctx, name, ...args) };
  notices();
  scrollTo(0, 0);
  performance.mark(`shown ${name}`);
  if (name !== "join") fetchAhead();
}

/** Loads what a screen needs. @param {Screen} screen */
async function loaded(screen) {
  const [module] = await Promise.all([screen.load(), ...screen.sheets.map(styled)]);
  return module;
}

/** Loads a style sheet once. @param {string} name @returns {Promise<void>} */
function styled(name) {
  if (document.getElementById(`css-${name}`)) return Promise.resolve();
  const link = document.createElement("link");
  link.id = `css-${name}`;
  link.rel = "stylesheet";
  link.href = `/${name}/${name}.css`;
  document.head.append(link);
  return new Promise((done) => {
    link.onload = link.onerror = () => done();
  });
}

/** Fetches the other screens of a phone while there is a network. */
function fetchAhead() {
  if (live.me?.role === "viewer") return;
  const needs = () => Promise.all(phoneNeeds.map((name) => screens[name].load().then((screen) => screen.ahead?.())));
  setTimeout(() => reached().then(needs).catch(() => null), AHEAD_MS);
}

/** The emergencies that the board has not got. */
const unsent = () => live.waiting.filter((w) => w.do === "emergency.raise");

/** Says above a screen what every screen must say; an emergency that is not sent brings it into sight. */
function notices() {
  render(framed.includes(root.dataset.screen ?? "") ? null : noticesView(), place("notices"));
  const now = unsent().length;
  if (now > stood) for (const of of [window, document.querySelector(".middle")]) of?.scrollTo(0, 0);
  stood = now;
}

/** What every screen must say. */
function noticesView() {
  const lines = unsent().map(notSent);
  lines.push(...emergencies().map((e, i, all) =>
    emergency(e, i === all.length - 1, all.slice(i + 1).some((x) => x.robot === e.robot))));
  const since = clock.hhmm(live.heardAt);
  if (live.status === "old") {
    lines.push(notice("old", "This page is older than the board. Refresh it."));
  } else if (live.me && live.stale >= 60 && root.dataset.screen === "wall") {
    lines.push(notice("cut", `NOT CONNECTED SINCE ${since}`, "Believe nothing here about power. Ask at the robot."));
  } else if (live.me && live.stale >= 20) {
    lines.push(notice("cut", `No connection since ${since}`, `Power states are UNKNOWN to this screen, all else is as of ${since}`));
  } else if (live.readOnly) {
    lines.push(notice("readonly", live.readOnly));
  }
  if (live.clockSaid) {
    lines.push(section({ class: "notice clock", key: "clock" }, p(null, live.clockSaid),
      live.me?.role === "captain" ? tap({ words: "set the board’s time …", act: () => go("#/captain/time") }) : null));
  }
  if (live.newer) lines.push(notice("newer", "The board’s program is newer than this page. Refresh when you can."));
  for (const { id, words, refusal } of lined.includes(root.dataset.screen ?? "") ? [] : live.refused) {
    lines.push(
      section({ class: "notice refusal", key: id },
        h2(null, `Not done: ${words}`), p(null, refusal.sentence), rule(refusal),
        tap({ words: "I have read it", act: () => live.dismiss(id) })),
    );
  }
  return lines.length ? div({ class: "notices", key: "notices" }, lines) : null;
}

/** @param {string} key @param {string} head @param {string} [rest] */
const notice = (key, head, rest) => section({ class: `notice ${key}`, key }, h2(null, head), rest ? p(null, rest) : null);

const emergencies = () => (live.me ? board.all("emergency").filter((e) => !e.endedAt).sort((x, y) => (x.at < y.at ? -1 : 1)) : []);

/** An emergency that the board has not got: the voice has to do. @param {import("./core/queue.js").Waiting} w */
const notSent = (w) =>
  section({ class: "notice emergency unsent", key: w.id, role: "alert" },
    h2(null, span({ class: "people-mark", "aria-hidden": "true" }), " NOT SENT. SHOUT."),
    p({ class: "fact" }, `No other screen shows the ${commandWords(board, w.do, w.with)}. This device goes on trying.`),
    emergencies().length ? null : card(board.get("event/event")));

/** All that the board says by itself: what people are to do is the officials' to say. */
const NO_CARD = "Raise the alarm – get clear – tell event safety";

/**
 * An emergency; the last has the officials' card.
 * @param {import("./core/wire.d.ts").Emergency} e
 * @param {boolean} last
 * @param {boolean} again who is in its robot stands in a later one
 */
function emergency(e, last, again) {
  const taken = board.get(`alarm/A-emergency-${e.id}`);
  const where = [e.robot && robotOf(board, e.robot), placeOf(board, e.place)].filter(Boolean).join(", ");
  return section({ class: `notice emergency${taken?.takenBy ? " taken" : ""}`, key: `emergency ${e.id}` },
    h2(null, span({ class: "people-mark", "aria-hidden": "true" }), ` EMERGENCY${where ? ` at ${where}` : ""}`),
    again ? null : inIt(e.robot),
    p({ class: "fact raised" },
      `raised by ${nameOf(board, e.by)} ${clock.hhmm(e.at)}${e.what ? `: ${e.what}` : ""}` +
        `${taken?.takenBy ? ` · ${nameOf(board, taken.takenBy)} is on it since ${clock.hhmm(taken.takenAt)}` : ""}`),
    last ? card(board.get("event/event")) : null,
    live.me?.person ? div({ class: "acts-row" },
      taken && taken.takenBy !== live.me.person && !answersNot(live.me.person)
        ? tap({
          key: "take", words: "I’m on it", act: () => told(live.send("alarm.take", { alarm: `A-emergency-${e.id}` }), "you are on it"),
        })
        : null,
      live.me.role === "crew" ? null : tap({ key: "over", words: "it is over …", act: () => go(`#/me/over/${e.id}`) })) : null);
}

/** Who is in the robot of an emergency. @param {string | undefined} robot */
function inIt(robot) {
  if (!robot) return null;
  const names = handsOn(ctx, robot).map((h) => (h.by === "near" ? `${h.name}\u00a0near` : h.name));
  return p({ class: "in-it" }, names.length ? `IN IT: ${names.join(", ")}` : "nobody is said to be in it");
}

/** Minors and guests raise an emergency and do not take it. @param {string} id */
const answersNot = (id) => { const who = board.get(`person/${id}`); return Boolean(who?.minor || who?.guest); };

/** @param {import("./core/wire.d.ts").Event | undefined} event */
const card = (event) => div({ class: "card" },
  p({ class: "card-text" }, (event?.card?.text || NO_CARD).split("\n").map((line, i) => span({ key: i }, line))),
  p({ class: "fact from" },
    event?.emergencyContact ? span(null, "to reach: ", b(null, event.emergencyContact)) : null,
    event?.card?.text
      ? span(null, `officials’ card approved by ${event.card.approvedBy}, entered ${clock.hhmm(event.entered.card)}`)
      : null));

/** Says how a command went. @param {Promise<import("./core/queue.js").Outcome>} sent @param {string} says */
const told = async (sent, says) => say((await sent).refusal?.sentence ?? says);

/** Class A alarms are said once each, to ears that cannot see the screen. */
const heard = new Set();

function alarms() {
  const said = place("alert").dataset.key;
  if (said && !board.get(/** @type {`alarm/${string}`} */ (said))) place("alert").textContent = "";
  for (const [key, alarm] of board.entries("alarm")) {
    const id = `${key} ${alarm.since}`;
    if (heard.has(id) || alarm.takenBy || alarm.shelvedUntil) continue;
    heard.add(id);
    if (alarm.class === "A") {
      place("alert").textContent = `PEOPLE. ${alarm.what}. ${alarm.act}`;
      place("alert").dataset.key = key;
    }
    if (alarm.class !== "C" && live.me?.role !== "viewer" && navigator.userActivation?.hasBeenActive) {
      navigator.vibrate?.(alarm.class === "A" ? [400, 100, 400] : 200);
    }
  }
}

live.onStatus(() => {
  root.dataset.stale = String(live.stale);
  notices();
  show();
});
board.subscribe(() => {
  root.dataset.rev = String(board.rev);
  alarms();
  if (emergencies().length || document.querySelector(".notice.emergency")) notices();
  show();
});
addEventListener("hashchange", show);
addEventListener("pointerup", () => hear(ctx), { once: true });
// While the board is being reached: the screen that this device showed last time.
if (live.role) loaded(screens[parts()[0]]).catch(() => null);
show();
