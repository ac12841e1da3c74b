// Sheet choices: the answers of a line that is answered by one of several: a place,
// a pack, a person, one of the line's own words.

import { byName } from "../core/screen.js";
import { packWords } from "../core/words.js";

/** @typedef {import("../core/ctx.d.ts").Ctx} Ctx */
/** @typedef {import("../core/wire.d.ts").Line} Line */
/** @typedef {import("../core/wire.d.ts").Sheet} Sheet */

/**
 * What becomes of an answer besides the word.
 * @typedef {{number?: number, place?: string, pack?: string, told?: string, choice?: string, said?: "alone", sure?: true}} More
 */

/** @typedef {[key: string, words: string, more: More]} Choice */

const placeOrder = ["watch", "charging", "store", "bench", "test-box", "staging", "arena", "away"];

/**
 * What a line may be answered with, the likeliest first; null where it takes no choice.
 * @param {Ctx} ctx
 * @param {Sheet} sheet
 * @param {Line} line
 * @param {string | undefined} me
 * @returns {Choice[] | null}
 */
export function choicesOf(ctx, sheet, line, me) {
  switch (line.kind) {
    case "place": return places(ctx);
    case "pack": return packs(ctx, sheet.robot);
    case "told": return told(ctx, sheet, me);
    case "choice": return (line.choices ?? []).map((choice) => [choice, choice, { choice }]);
  }
  return null;
}

/**
 * Who closes up tells someone else; the links may stay with the one who says so.
 * @param {Ctx} ctx
 * @param {Sheet} sheet
 * @param {string | undefined} me
 * @returns {Choice[]}
 */
function told({ board }, sheet, me) {
  const closing = sheet.list === "close-up";
  const people = byName(board.all("person").filter((p) => !p.retired && !(closing && p.id === me)));
  const alone = /** @type {Choice} */ (["alone", "nobody else at the bench", { said: "alone" }]);
  return [...people.map((p) => /** @type {Choice} */ ([p.id, p.name, { told: p.id }])), ...(closing ? [alone] : [])];
}

/** @param {Ctx} ctx @returns {Choice[]} */
const places = ({ board }) => byName(board.all("place").filter((p) => !p.retired))
  .sort((x, y) => placeOrder.indexOf(x.kind) - placeOrder.indexOf(y.kind))
  .map((place) => [place.id, place.name, { place: place.id }]);

/**
 * Those that fit the robot: the one that is in it first, then the charged ones.
 * @param {Ctx} ctx
 * @param {string} robot
 * @returns {Choice[]}
 */
function packs({ board }, robot) {
  const rank = (/** @type {import("../core/wire.d.ts").Pack} */ p) => (p.robot === robot ? 0 : p.state === "charged" ? 1 : 2);
  return byName(board.all("pack").filter((p) => !p.retired && (!p.fits?.length || p.fits.includes(robot))))
    .sort((x, y) => rank(x) - rank(y))
    .map((pack) => [pack.id, `${pack.name}: ${board.get(`packview/${pack.id}`)?.word ?? packWords[pack.state]}`, { pack: pack.id }]);
}
