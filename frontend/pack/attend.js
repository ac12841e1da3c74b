// Who stays with a pack on a charger: they say so themselves, and say after the board was
// off whether it still charges.

import { div, h2, p, tap } from "../core/tags.js";
import { byName, robotName } from "../core/screen.js";
import { nameOf } from "../core/words.js";

/** @typedef {import("../phone/page.js").Phone} Phone */
/** @typedef {import("../core/wire.d.ts").Pack} Pack */

/** @param {Phone} phone @param {Pack} pack */
const stay = (phone, pack) => phone.acts.ask({ do: "pack.attend", with: { pack: pack.id }, says: `you stay with ${pack.name}` });

/** @param {Phone} phone @param {Pack} pack */
export const offButton = (phone, pack) => tap({
  key: "off", words: "off the charger",
  act: () => phone.acts.ask({ do: "pack.off", with: { pack: pack.id }, says: `${pack.name} is off the charger` }),
});

/** That I stay with it, where I have not said so. @param {Phone} phone @param {Pack} pack */
export function attendButton(phone, pack) {
  if (pack.state !== "charging" || phone.nearOnly || (pack.attendant === phone.me && pack.attendAt && !pack.away)) return null;
  const words = pack.unsure ? "still charging, I am with it" : pack.attendant === phone.me ? "I stay with it" : "I take it over";
  return tap({ key: "stay", words, act: () => stay(phone, pack) });
}

/** Who stays with it, and whether they have said so. @param {Phone} phone @param {Pack} pack */
export function attendLine(phone, pack) {
  const who = nameOf(phone.board, pack.attendant);
  if (pack.unsure) return `nobody has said whether it still charges; ${who} stayed with it`;
  if (pack.away) return `${who}, who stays with it, was seen at ${robotName(phone.ctx, pack.away.robot)}, out of its sight`;
  return pack.attendAt ? `${who} stays with it` : `${who} was named to stay with it, and has not said so`;
}

/** The charges that nobody has said they stay with, a tap each. @param {Phone} phone */
export function chargesView(phone) {
  const list = byName(phone.board.all("pack").filter((k) => k.state === "charging" && (!k.attendAt || k.away)));
  if (!phone.me || !list.length) return null;
  const channel = (/** @type {Pack} */ pack) => phone.board.get(`channel/${pack.channel ?? ""}`)?.name ?? "a charger";
  return [h2(null, "on charge, with nobody’s word"), list.map((pack) => div({ class: "item", key: pack.id },
    p({ class: "fact" }, `${pack.name} on ${channel(pack)}: ${attendLine(phone, pack)}`),
    div({ class: "row" }, attendButton(phone, pack), offButton(phone, pack))))];
}
