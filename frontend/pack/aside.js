// A pack that was set aside: nobody is told to handle it, and the emergency is one hold
// away.

import { hold } from "../core/tags.js";
import { emergencyWords } from "../core/words.js";

/** @typedef {import("../phone/page.js").Phone} Phone */
/** @typedef {import("../core/wire.d.ts").Pack} Pack */

/** Raises the emergency where the pack is, as far as anyone has said. @param {Phone} phone @param {Pack} pack */
export const raiseAt = (phone, pack) => phone.acts.ask({
  do: "emergency.raise", ...emergencyWords,
  with: { what: `pack ${pack.name}`, ...(pack.robot ? { robot: pack.robot } : {}), ...(pack.place ? { place: pack.place } : {}) },
});

/** @param {Phone} phone @param {Pack} pack @param {() => Promise<unknown>} [act] */
export const emergencyButton = (phone, pack, act = () => raiseAt(phone, pack)) =>
  hold({ class: "main people", robot: "emergency", words: `EMERGENCY: pack ${pack.name}`, act });
