// Emergency: what stands above every screen until it is ended, with the officials'
// card. A wall shows all of a long card, as large as it can.

import { b, div, h2, p, section, span, tap } from "./tags.js";
import { clock } from "./clock.js";
import { nameOf, placeOf, robotOf } from "./words.js";

/** @typedef {import("./wire.d.ts").Ctx} Ctx */
/** @typedef {import("./wire.d.ts").Emergency} Emergency */

/** All that the board says by itself: what people are to do is the officials' to say. */
const NO_CARD = "Raise the alarm – get clear – tell event safety";

/** The emergencies that stand, the oldest first. @param {Ctx} ctx */
export const emergencies = ({ board, live }) =>
  live.me ? board.all("emergency").filter((e) => !e.endedAt).sort((x, y) => (x.at < y.at ? -1 : 1)) : [];

/** What stands above the screen: each emergency, the card once, under the last. @param {Ctx} ctx */
export const emergencyNotices = (ctx) => emergencies(ctx).map((e, i, all) => notice(ctx, e, i === all.length - 1));

/** @param {Ctx} ctx @param {Emergency} e @param {boolean} withCard */
function notice({ board, live, go, say }, e, withCard) {
  const taken = board.get(`alarm/A-emergency-${e.id}`);
  const where = [e.robot && robotOf(board, e.robot), placeOf(board, e.place)].filter(Boolean).join(", ");
  return section({ class: `notice emergency${taken?.takenBy ? " taken" : ""}`, key: `emergency ${e.id}` },
    h2(null, span({ class: "people-mark", "aria-hidden": "true" }), ` EMERGENCY${where ? ` at ${where}` : ""}`),
    p({ class: "fact" }, `raised by ${nameOf(board, e.by)} ${clock.hhmm(e.at)}${e.what ? `: ${e.what}` : ""}${taken?.takenBy ? ` · ${nameOf(board, taken.takenBy)} sees to it since ${clock.hhmm(taken.takenAt)}` : ""}`),
    withCard ? card(board.get("event/event")) : null,
    live.me?.person ? div({ class: "acts-row" },
      taken && taken.takenBy !== live.me.person ? tap({ key: "take", words: "I see to it", act: () => told(live.send("alarm.take", { alarm: `A-emergency-${e.id}` }), say, "you see to it") }) : null,
      live.me.role === "crew" ? null : tap({ key: "over", words: "it is over …", act: () => go(`#/me/over/${e.id}`) })) : null);
}

/** @param {import("./wire.d.ts").Event | undefined} event */
const card = (event) => div({ class: "card" },
  p({ class: "card-text" }, (event?.card?.text || NO_CARD).split("\n").map((step, i) => span({ key: i }, step))),
  p({ class: "fact from" },
    event?.emergencyContact ? span(null, "to reach: ", b(null, event.emergencyContact)) : null,
    event?.card?.text ? span(null, `officials’ card approved by ${event.card.approvedBy}, entered ${clock.hhmm(event.entered.card)}`) : null));

/**
 * Says how a command went.
 * @param {Promise<import("./queue.js").Outcome>} sent @param {Ctx["say"]} say @param {string} says
 */
const told = async (sent, say, says) => say((await sent).refusal?.sentence ?? says);

/** The share of a wall's height that a card may take before bands give way to it. */
const HALF = 0.62;
const LEAST_PERCENT = 30;

/** @type {[boolean, number, number][]} How a wall may show a card, the best to read first: whether bands keep their half, size of the letters, columns. */
const layouts = [[true, 1, 1], [true, 1, 2], [false, 1, 1], [false, 1, 2]];
for (let percent = 95; percent >= LEAST_PERCENT; percent -= 5) {
  for (let columns = 1; columns <= (percent < 70 ? 3 : 2); columns++) layouts.push([false, percent / 100, columns]);
}

/**
 * Shows the card above a wall in the first layout that has all of it in sight,
 * and the wall's head and foot too.
 * @param {HTMLElement} wall
 */
export function fitCard(wall) {
  const notices = /** @type {HTMLElement} */ (document.getElementById("notices"));
  const words = notices.querySelector(".card-text");
  if (!words) return;
  const rest = [...wall.querySelectorAll("header, footer")].reduce((sum, e) => sum + e.getBoundingClientRect().height, 0);
  const room = innerHeight - rest - 4;
  for (const [halved, size, columns] of layouts) {
    notices.style.setProperty("--card-size", String(size));
    notices.style.setProperty("--card-columns", String(columns));
    if (notices.scrollHeight <= (halved ? Math.min(room, innerHeight * HALF) : room) && words.scrollWidth <= words.clientWidth) return;
  }
}
