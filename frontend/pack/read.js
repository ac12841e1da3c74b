// Reading a pack: its cells one after the other on big keys, its warmth, how it looks,
// and after a charge what the charger counted.

import { ago, div, input, label, p, span, tap } from "../core/tags.js";
import { nameOf } from "../core/words.js";
import { padKeys } from "../core/pad.js";
import { alarmLines } from "./charge.js";
import { emergencyButton, raiseAt } from "./aside.js";

/** @typedef {import("../phone/page.js").Phone} Phone */
/** @typedef {import("../core/wire.d.ts").Pack} Pack */
/** @typedef {import("../core/wire.d.ts").Look} Look */

/** From this on a pack is set aside, as the board has it. */
const TOO_HOT_C = 60;

/** @type {Record<Look, string>} */
export const lookWords = {
  fine: "looks as it should", swollen: "swollen or soft", torn: "torn, pierced, burnt", smells: "smells, hisses", smokes: "smokes",
};

/**
 * What is read beside the cells: name, words, and where it stands in a reading.
 * @type {[string, string, "tempC" | "airC" | "milliOhm" | "returnedAh" | "chargeMin"][]}
 */
const figures = [
  ["temp", "°C", "tempC"], ["ah", "Ah in", "returnedAh"], ["min", "min", "chargeMin"], ["air", "air °C", "airC"],
  ["ohm", "mΩ", "milliOhm"],
];

/** A look that comes up under the thumb that typed takes no tap for so long. */
const LOOK_REST_MS = 400;

const isCell = (/** @type {string} */ name) => name.startsWith("cell");

/** It came off a charger, whose counters are then read too. @param {Pack} pack */
const cameOff = (pack) => Boolean(pack.amps);

/** The names of the fields of a reading, in the order in which they are typed. @param {Phone} phone @param {Pack} pack */
function fieldsOf(phone, pack) {
  const more = phone.typed.more ? ["ah", "min", "air", "ohm"] : cameOff(pack) ? ["ah", "min"] : [];
  return [...Array.from({ length: pack.cells }, (_, i) => `cell${i + 1}`), "temp", "look", ...more];
}

/** The value of a field at the last reading. @param {Pack} pack @param {string} name */
function lastOf(pack, name) {
  if (isCell(name)) return pack.reading?.cellVolts?.[Number(name.slice(4)) - 1]?.toFixed(2) ?? "";
  const field = figures.find(([n]) => n === name && ["temp", "ohm"].includes(n))?.[2];
  return String((field && pack.reading?.[field]) ?? "");
}

/** Puts the pack's next field under the keys. @param {Phone} phone @param {Pack} pack @param {string} from */
function nextField(phone, pack, from) {
  const names = fieldsOf(phone, pack);
  const to = names[Math.min(names.length - 1, names.indexOf(from) + 1)];
  phone.type("at", to);
  document.getElementById(to)?.focus({ preventScroll: true });
}

/** What was asked or refused was about what stood there before. @param {Phone} phone */
function forget(phone) {
  phone.typed.asked = "";
  phone.typed.refused = "";
}

/**
 * Takes in what is typed in a field; a cell's volts have two decimals, then the next cell's
 * turn comes.
 * @param {Phone} phone
 * @param {Pack} pack
 * @param {string} name
 * @param {string} text
 */
function typeField(phone, pack, name, text) {
  let clean = text.replace(",", ".").replace(/[^\d.]/g, "");
  const cell = isCell(name);
  if (cell && /^\d{2}$/.test(clean)) clean = `${clean[0]}.${clean[1]}`;
  forget(phone);
  phone.type(name, cell ? clean.slice(0, 4) : clean);
  if (cell && /^\d\.\d\d$/.test(clean)) nextField(phone, pack, name);
}

/**
 * Takes in what the big keys make of a figure. One that has all its digits starts over; after two of the
 * temperature comes the look.
 * @param {Phone} phone
 * @param {Pack} pack
 * @param {string} name
 * @param {string} text
 */
function typeKeys(phone, pack, name, text) {
  const value = phone.typed[name] ?? "";
  const added = text.slice(value.length);
  const full = isCell(name) ? /^\d\.\d\d$/.test(value) : name === "temp" && Number(text) > 150;
  typeField(phone, pack, name, full && added ? added : text);
  if (added && name === "temp" && /^\d\d$/.test(phone.typed.temp)) nextField(phone, pack, name);
}

/** Typing a reading, a cell at a time. @param {Phone} phone @param {Pack} pack */
export function readingForm(phone, pack) {
  const at = phone.typed.at ?? "cell1";
  const charged = phone.typed.charged === "yes";
  const r = pack.reading;
  if (phone.typed.asked && vents(phone)) return ventsPage(phone, pack);
  return phone.frame(undefined, `Reading of ${pack.name}`,
    [
      div({ class: pack.cells > 6 ? "cells five" : "cells" },
        fieldsOf(phone, pack).map((name) => (name === "look" ? lookField(phone, at) : figureField(phone, pack, name, at)))),
      phone.typed.asked ? p({ class: "fact class-a", role: "alert" }, phone.typed.asked) : null,
      phone.typed.refused ? p({ class: "not-yet", role: "alert" }, phone.typed.refused) : null,
      at === "look"
        ? looksView(phone, pack)
        : padKeys(phone.typed[at] ?? "", (text) => typeKeys(phone, pack, at, text), true),
      cameOff(pack)
        ? tap({
          class: charged ? "wide chosen" : "wide", words: charged ? "✓ charger ended" : "charger ended?",
          act: () => { forget(phone); phone.type("charged", charged ? "" : "yes"); },
        })
        : null,
      div({ class: "row" },
        phone.to(`#/me/pack/${pack.id}`, "cancel"),
        tap({
          words: phone.typed.more ? "fewer" : cameOff(pack) ? "air, mΩ" : "air, mΩ, Ah in",
          act: () => phone.type("more", phone.typed.more ? "" : "yes"),
        }),
        tap({ words: "next", act: () => nextField(phone, pack, at) })),
      r?.at ? p({ class: "hint" }, "Small: as read ", ago({ since: r.at }), ` ago by ${nameOf(phone.board, r.by)}.`) : null,
    ],
    tap({
      class: "main", words: phone.typed.asked ? "YES, I LOOKED AGAIN" : "THIS IS WHAT I READ",
      off: !fieldsOf(phone, pack).some((name) => phone.typed[name]), act: () => sendReading(phone, pack),
    }));
}

/** @param {Phone} phone @param {Pack} pack @param {string} name @param {string} at */
function figureField(phone, pack, name, at) {
  const cell = isCell(name);
  const last = lastOf(pack, name);
  return div({ class: name === at ? "cell here" : "cell", key: name },
    label({ for: name },
      span(null, cell ? [span({ class: "unseen" }, "cell "), name.slice(4)] : figures.find(([n]) => n === name)?.[1]),
      last ? span({ class: "last" }, span({ class: "unseen" }, ", was "), last) : null),
    input({ id: name, type: "text", inputMode: "none", autoComplete: "off", value: phone.typed[name] ?? "",
      onFocus: () => phone.typed.at !== name && phone.type("at", name),
      onInput: (e) => typeField(phone, pack, name, e.currentTarget.value) }));
}

/** @param {Phone} phone @param {string} at */
function lookField(phone, at) {
  const look = /** @type {Look | ""} */ (phone.typed.look ?? "");
  return tap({
    key: "look", id: "look", class: at === "look" ? "cell look here" : "cell look", words: look || "look?",
    label: look ? `look: ${look}` : "look?", act: () => phone.type("at", "look"),
  });
}

/** How it looks, in place of the keys. @param {Phone} phone @param {Pack} pack */
function looksView(phone, pack) {
  const choose = (/** @type {Look} */ look) => {
    forget(phone);
    phone.type("look", phone.typed.look === look ? "" : look);
    if (phone.typed.look) nextField(phone, pack, "look");
  };
  return div({ class: "looks", role: "group", "aria-label": "how it looks" }, /** @type {Look[]} */ (Object.keys(lookWords)).map((look) =>
    tap({
      key: look, class: phone.typed.look === look ? "choice chosen" : "choice", restMs: LOOK_REST_MS,
      words: `${phone.typed.look === look ? "✓ " : ""}${lookWords[look]}`, act: () => choose(look),
    })));
}

/** What is typed is of a pack that people keep away from. @param {Phone} phone */
const vents = (phone) => Number(phone.typed.temp) >= TOO_HOT_C || Boolean(phone.typed.look && phone.typed.look !== "fine");

/** Such a reading sends nobody back to the pack: it offers the emergency at once. @param {Phone} phone @param {Pack} pack */
function ventsPage(phone, pack) {
  const startOver = () => { forget(phone); phone.screen.redraw(); };
  const raise = async () => {
    await raiseAt(phone, pack);
    await sendReading(phone, pack);
  };
  return phone.frame(undefined, `Reading of ${pack.name}`,
    [
      p({ class: "pack-word class-a", role: "alert" }, phone.typed.asked),
      p({ class: "lead" }, "Get clear, raise the alarm, tell event safety."),
      phone.typed.refused ? p({ class: "not-yet", role: "alert" }, phone.typed.refused) : null,
      div({ class: "facts" }, alarmLines(phone)),
    ],
    [
      div({ class: "row" },
        tap({ words: "a slip: type it again", act: startOver }),
        tap({ words: "not an emergency, keep the reading", act: () => sendReading(phone, pack) })),
      emergencyButton(phone, pack, raise),
    ]);
}

/**
 * Asks once more before a reading goes out that sets the pack aside for good.
 * @param {Phone} phone
 * @param {Pack} pack
 * @param {number[]} cells
 */
function setsAside(phone, pack, cells) {
  const floor = { life: 2.5, nimh: 0.8, agm: 1.75 }[/** @type {string} */ (pack.chemistry)] ?? 3;
  const low = Math.min(...cells);
  const high = Math.max(...cells);
  if (Number(phone.typed.temp) >= TOO_HOT_C) return `${phone.typed.temp} °C sets ${pack.name} aside for good.`;
  if (cells.length && low < floor) return `A cell at ${low} V sets ${pack.name} aside for good.`;
  if (cells.length && high - low >= 0.1 && (pack.chemistry !== "life" || high > 3.4)) {
    return `Cells ${(high - low).toFixed(2)} V apart set ${pack.name} aside for good.`;
  }
  if (phone.typed.look && phone.typed.look !== "fine") {
    return `${lookWords[/** @type {Look} */ (phone.typed.look)]}: this sets ${pack.name} aside for good.`;
  }
  return "";
}

/** @param {Phone} phone @param {Pack} pack */
async function sendReading(phone, pack) {
  const number = (/** @type {string} */ name) => (phone.typed[name] ? Number(phone.typed[name]) : undefined);
  const cells = fieldsOf(phone, pack).filter(isCell).map(number).filter((v) => v !== undefined);
  const aside = setsAside(phone, pack, cells);
  if (aside && !phone.typed.asked) return phone.type("asked", vents(phone) ? aside : `${aside} Look once more: is that so?`);
  const answer = await phone.acts.ask({
    do: "pack.read",
    with: {
      pack: pack.id,
      ...(cells.length ? { cellVolts: cells } : {}),
      ...Object.fromEntries(figures.filter(([name]) => phone.typed[name]).map(([name, , field]) => [field, number(name)])),
      ...(phone.typed.look ? { look: /** @type {Look} */ (phone.typed.look) } : {}),
      ...(phone.typed.charged === "yes" ? { charged: true } : {}),
      ...(phone.typed.asked ? { sure: true } : {}),
    },
    says: `reading of ${pack.name}`,
    quiet: true,
  });
  if (!answer.refusal) return phone.ctx.go(`#/me/pack/${pack.id}`);
  forget(phone);
  phone.type(answer.refusal.field === "sure" ? "asked" : "refused", answer.refusal.sentence);
}
