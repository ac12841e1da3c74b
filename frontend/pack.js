// Pack: what each battery is known to be, where it is, and what is read off it.

import { ago, b, div, h2, hold, input, label, p, tap } from "./tags.js";
import { nameOf, packWords, placeOf } from "./words.js";
import { pad } from "./pad.js";
import { byName, robotName, robots } from "./screen.js";
import { fightPacksView } from "./fightpacks.js";

/** @typedef {import("./phone.js").Phone} Phone */
/** @typedef {import("./wire.d.ts").Pack} Pack */

const setAside = ["suspect", "quarantined", "gone"];

/** @param {Phone} phone @param {Pack} pack */
const wordOf = (phone, pack) => phone.board.get(`packview/${pack.id}`)?.word ?? packWords[pack.state];

/** @param {Phone} phone @param {Pack} pack */
function whereOf(phone, pack) {
  if (pack.robot) return `in ${robotName(phone.ctx, pack.robot)}`;
  return placeOf(phone.board, pack.place) || "nobody has said where";
}

/** In a line: its word, and when it is ready or why it must be read. @param {Phone} phone @param {Pack} pack */
function lineOf(phone, pack) {
  const v = phone.board.get(`packview/${pack.id}`);
  if (v?.again && !setAside.includes(pack.state)) return `read again: ${v.again}`;
  return v?.readyAt ? `ready ${phone.ctx.clock.hhmm(v.readyAt)}, bad case ${phone.ctx.clock.hhmm(v.badAt)}` : "";
}

/** All packs. @param {Phone} phone */
function listPage(phone) {
  const packs = byName(phone.board.all("pack").filter((k) => !k.retired));
  return phone.frame(undefined, "Packs",
    [
      phone.to("#/me/fights", "which packs for which fight"),
      div({ class: "stack" }, packs.map((pack) => div({ class: "item", key: pack.id },
        phone.to(`#/me/pack/${pack.id}`, `${pack.name} · ${wordOf(phone, pack)}`),
        p({ class: "fact" }, [whereOf(phone, pack), lineOf(phone, pack)].filter(Boolean).join(" · "))))),
      circuits(phone),
    ],
    phone.to("#/me", "MY NEXT MOVE", "main"));
}

/** Which packs each fight finds. @param {Phone} phone */
function fightsPage(phone) {
  return phone.frame(undefined, "Packs for our fights",
    [fightPacksView(phone.ctx), p({ class: "hint" }, "Forecasts from the readings: only a reading makes a pack charged.")],
    [div({ class: "row" }, phone.to("#/me/packs", "back")), div({ class: "gap" }), phone.to("#/me", "MY NEXT MOVE", "main")]);
}

/** One pack. @param {Phone} phone */
function packPage(phone) {
  const pack = phone.board.get(`pack/${phone.about}`);
  if (!pack) return listPage(phone);
  const aside = setAside.includes(pack.state);
  const forRobot = phone.board.get(`packview/${pack.id}`)?.for;
  const state = (/** @type {"cooling" | "waiting" | "storage" | "quarantined" | "gone"} */ to) =>
    tap({ key: to, words: packWords[to].toLowerCase(), act: () => phone.acts.ask({ do: "pack.set", with: { pack: pack.id, state: to }, says: `${pack.name}: ${packWords[to]}` }) });
  return phone.frame(undefined, `Pack ${pack.name}`,
    [
      p({ class: aside ? "pack-word class-a" : "pack-word" }, wordOf(phone, pack)),
      div({ class: "facts" },
        p({ class: "fact" }, whereOf(phone, pack), pack.since ? [" · since ", phone.ctx.clock.hhmm(pack.since)] : null),
        p({ class: "fact" }, `${pack.cells} cells, ${pack.capacityAh} Ah${forRobot ? ` · ${pack.chosenFor === forRobot ? "kept for" : "for"} ${robotName(phone.ctx, forRobot)}` : ""}`),
        readingView(phone, pack)),
      timesView(phone, pack),
      chargeView(phone, pack),
      aside && pack.state !== "gone"
        ? div({ class: "grid" }, pack.state === "suspect" ? state("quarantined") : null, state("gone"))
        : aside || pack.robot || pack.state === "charging" ? null : div({ class: "grid" }, phone.to(`#/me/charge/${pack.id}`, "charge it"), state("cooling"), state("waiting"), state("storage")),
    ],
    [
      div({ class: "row" },
        aside ? null : phone.to(`#/me/read/${pack.id}`, "reading"),
        phone.to(`#/me/move/${pack.id}`, "move or keep"),
        phone.to("#/me/packs", "back")),
      div({ class: "gap" }),
      aside
        ? phone.to("#/me", "MY NEXT MOVE", "main")
        : hold({ class: "main", robot: pack.name, words: `SET ASIDE ${pack.name}, for good`, act: () => phone.acts.ask({ do: "pack.set", with: { pack: pack.id, state: "suspect" }, says: `${pack.name} is set aside` }) }),
    ]);
}

/** When it is cool and charged by the readings, or why it must be read again. @param {Phone} phone @param {Pack} pack */
function timesView(phone, pack) {
  const v = phone.board.get(`packview/${pack.id}`);
  if (!v || setAside.includes(pack.state)) return null;
  const at = (/** @type {string | undefined} */ time) => phone.ctx.clock.hhmm(time);
  const minutes = (/** @type {number} */ sec) => `${Math.round(sec / 60)} min`;
  return div({ class: "facts" },
    v.again ? p({ class: "fact" }, b(null, "read again: "), v.again) : null,
    v.coolAt ? p({ class: "fact" }, b(null, `cool enough about ${at(v.coolAt)}`), ` · bad case ${at(v.coolBadAt)}`) : null,
    v.readyAt
      ? p(null, b({ class: "ready-at" }, `READY ${at(v.readyAt)}`), ` · bad case ${at(v.badAt)}`)
      : v.takesSec ? p({ class: "fact" }, `${minutes(v.takesSec)} on a charger, bad case ${minutes(v.takesBadSec ?? v.takesSec)}`) : null,
    v.readyAt || v.coolAt ? p({ class: "fact" }, `from ${at(v.earlyAt ?? v.coolAt)}; only a reading makes it so`) : null,
    v.caution ? p({ class: "fact class-a" }, v.caution) : null);
}

/** The robot whose next fight someone chose it for, or may. @param {Phone} phone @param {Pack} pack */
function choiceView(phone, pack) {
  const choose = (/** @type {string | undefined} */ robot, /** @type {string} */ says) => phone.acts.ask({ do: "pack.choose", with: { pack: pack.id, robot }, says, undo: true });
  if (setAside.includes(pack.state) || pack.robot || pack.use === "tool") return null;
  const fits = robots(phone.ctx).filter((r) => pack.fits?.includes(r.id) && !r.withdrawn);
  if (!fits.length) return null;
  return [h2(null, "keep it for a next fight"), div({ class: "choices" }, fits.map((r) => (pack.chosenFor === r.id
    ? tap({ key: r.id, class: "choice chosen", words: `✓ for ${robotName(phone.ctx, r.id)}`, act: () => choose(undefined, `${pack.name} is kept for no robot`) })
    : tap({ key: r.id, class: "choice", words: `for ${robotName(phone.ctx, r.id)}`, act: () => choose(r.id, `${pack.name} is kept for ${robotName(phone.ctx, r.id)}`) }))))];
}

/** On which channel it is and who stays with it. @param {Phone} phone @param {Pack} pack */
function chargeView(phone, pack) {
  if (pack.state !== "charging") return null;
  return [
    p({ class: "fact" }, `on ${phone.board.get(`channel/${pack.channel ?? ""}`)?.name ?? "a charger"} · ${nameOf(phone.board, pack.attendant)} stays with it`),
    tap({ words: "it is off the charger", act: () => phone.acts.ask({ do: "pack.off", with: { pack: pack.id }, says: `${pack.name} is off the charger` }) }),
  ];
}

/** @param {Phone} phone @param {Pack} pack */
function readingView(phone, pack) {
  const r = pack.reading;
  if (!r?.at) return p({ class: "fact" }, "nobody has read it yet");
  const facts = [
    r.cellVolts?.length ? `cells ${r.cellVolts.map((v) => v.toFixed(2)).join(" · ")} V` : "",
    r.tempC !== undefined && r.tempC !== null ? `${r.tempC} °C` : "",
    r.airC !== undefined && r.airC !== null ? `room ${r.airC} °C` : "",
    r.milliOhm ? `${r.milliOhm} mΩ` : "",
    r.returnedAh ? `${r.returnedAh} Ah went in` : "",
    r.look ? lookWords[r.look] : "",
    r.charged ? "the charger had ended" : "",
  ];
  return [p(null, b(null, facts.filter(Boolean).join(" · "))), p({ class: "fact" }, "read ", ago({ since: r.at }), ` ago by ${nameOf(phone.board, r.by)}`)];
}

/** @type {Record<import("./wire.d.ts").Look, string>} */
const lookWords = { fine: "looks as it should", swollen: "swollen or soft", torn: "torn, pierced, burnt", smells: "smells, hisses" };

/** The fields of a reading beside the cells: name, words, where the last value stands. @type {[string, string, "tempC" | "airC" | "milliOhm" | "returnedAh" | "chargeMin"][]} */
const otherFields = [["temp", "°C", "tempC"], ["air", "air °C", "airC"], ["ohm", "mΩ", "milliOhm"], ["ah", "Ah in", "returnedAh"], ["min", "min on", "chargeMin"]];

/** The names of the fields of a reading, in the order in which they are typed. @param {Pack} pack */
const fieldsOf = (pack) => [...Array.from({ length: pack.cells }, (_, i) => `cell${i + 1}`), ...otherFields.map(([name]) => name)];

/** The value of a field at the last reading. @param {Pack} pack @param {string} name */
function lastOf(pack, name) {
  const other = otherFields.find(([n]) => n === name);
  const value = other ? pack.reading?.[other[2]] : pack.reading?.cellVolts?.[Number(name.slice(4)) - 1];
  return value ? (other ? String(value) : value.toFixed(2)) : "";
}

/** Puts the pack's next field under the keys. @param {Phone} phone @param {Pack} pack @param {string} from */
function nextField(phone, pack, from) {
  const names = fieldsOf(pack);
  const to = names[Math.min(names.length - 1, names.indexOf(from) + 1)];
  phone.type("at", to);
  document.getElementById(to)?.focus();
}

/** Takes in what is typed in a field; a cell's volts have two decimals, then the next cell's turn comes. @param {Phone} phone @param {Pack} pack @param {string} name @param {string} text */
function typeField(phone, pack, name, text) {
  let clean = text.replace(",", ".").replace(/[^\d.]/g, "");
  const cell = name.startsWith("cell");
  if (cell && /^\d{2}$/.test(clean)) clean = `${clean[0]}.${clean[1]}`;
  phone.typed.asked = "";
  phone.type(name, cell ? clean.slice(0, 4) : clean);
  if (cell && /^\d\.\d\d$/.test(clean)) nextField(phone, pack, name);
}

/** Typing a reading, a cell at a time. @param {Phone} phone */
function readPage(phone) {
  const pack = phone.board.get(`pack/${phone.about}`);
  if (!pack) return listPage(phone);
  const at = phone.typed.at ?? "cell1";
  const value = phone.typed[at] ?? "";
  const key = (/** @type {string} */ k) => tap({ key: k, class: "pad-key", words: k, act: () => typeField(phone, pack, at, value + k) });
  const charged = phone.typed.charged === "yes";
  return phone.frame(undefined, `Reading of ${pack.name}`,
    [
      div({ class: "cells" }, fieldsOf(pack).map((name) => cellView(phone, pack, name, at))),
      phone.typed.asked ? p({ class: "fact class-a", role: "alert" }, phone.typed.asked) : null,
      div({ class: "pad-keys" },
        "123".split("").map(key), tap({ key: "back", class: "pad-key", words: "back", act: () => phone.type(at, value.slice(0, -1)) }),
        "456".split("").map(key), key("."), "7890".split("").map(key)),
      div({ class: "choices", role: "group" }, /** @type {import("./wire.d.ts").Look[]} */ (Object.keys(lookWords)).map((look) =>
        tap({ key: look, class: phone.typed.look === look ? "choice chosen" : "choice", words: `${phone.typed.look === look ? "✓ " : ""}${lookWords[look]}`, act: () => { phone.typed.asked = ""; phone.type("look", phone.typed.look === look ? "" : look); } }))),
    ],
    [
      div({ class: "row" },
        phone.to(`#/me/pack/${pack.id}`, "leave it"),
        tap({ class: charged ? "chosen" : "", words: charged ? "✓ charger ended" : "charger ended?", act: () => phone.type("charged", charged ? "" : "yes") }),
        tap({ words: "next", act: () => nextField(phone, pack, at) })),
      div({ class: "gap" }),
      tap({ class: "main", words: phone.typed.asked ? "YES, I LOOKED AGAIN" : "THIS IS WHAT I READ", off: !fieldsOf(pack).some((name) => phone.typed[name]) && !phone.typed.look, act: () => sendReading(phone, pack) }),
    ]);
}

/** @param {Phone} phone @param {Pack} pack @param {string} name @param {string} at */
function cellView(phone, pack, name, at) {
  const words = otherFields.find(([n]) => n === name)?.[1] ?? name.replace("cell", "cell ");
  return div({ class: name === at ? "cell here" : "cell", key: name },
    label({ for: name }, words),
    input({ id: name, type: "text", inputMode: "none", autoComplete: "off", value: phone.typed[name] ?? "", placeholder: lastOf(pack, name),
      onFocus: () => phone.typed.at !== name && phone.type("at", name),
      onInput: (e) => typeField(phone, pack, name, e.currentTarget.value) }));
}

/** Asks once more before a reading goes out that sets the pack aside for good. @param {Phone} phone @param {Pack} pack @param {number[]} cells */
function setsAside(phone, pack, cells) {
  const floor = { life: 2.5, nimh: 0.8, agm: 1.75 }[/** @type {string} */ (pack.chemistry)] ?? 3;
  const low = Math.min(...cells);
  const high = Math.max(...cells);
  if (Number(phone.typed.temp) > 60) return `${phone.typed.temp} °C sets ${pack.name} aside for good.`;
  if (cells.length && low < floor) return `A cell at ${low} V sets ${pack.name} aside for good.`;
  if (cells.length && high - low >= 0.1 && (pack.chemistry !== "life" || high > 3.4)) return `Cells ${(high - low).toFixed(2)} V apart set ${pack.name} aside for good.`;
  if (phone.typed.look && phone.typed.look !== "fine") return `${lookWords[/** @type {import("./wire.d.ts").Look} */ (phone.typed.look)]}: this sets ${pack.name} aside for good.`;
  return "";
}

/** @param {Phone} phone @param {Pack} pack */
async function sendReading(phone, pack) {
  const number = (/** @type {string} */ name) => (phone.typed[name] ? Number(phone.typed[name]) : undefined);
  const cells = fieldsOf(pack).filter((name) => name.startsWith("cell")).map(number).filter((v) => v !== undefined);
  const aside = setsAside(phone, pack, cells);
  if (aside && !phone.typed.asked) return phone.type("asked", `${aside} Look once more: is that so?`);
  const answer = await phone.acts.ask({
    do: "pack.read",
    with: {
      pack: pack.id,
      ...(cells.length ? { cellVolts: cells } : {}),
      ...Object.fromEntries(otherFields.filter(([name]) => phone.typed[name]).map(([name, , field]) => [field, number(name)])),
      ...(phone.typed.look ? { look: /** @type {import("./wire.d.ts").Look} */ (phone.typed.look) } : {}),
      ...(phone.typed.charged === "yes" ? { charged: true } : {}),
      ...(phone.typed.asked ? { sure: true } : {}),
    },
    says: `reading of ${pack.name}`,
  });
  if (answer.refusal?.field === "sure") phone.type("asked", answer.refusal.sentence);
  else if (!answer.refusal) phone.ctx.go(`#/me/pack/${pack.id}`);
}

/** Where a pack is now. @param {Phone} phone */
function movePage(phone) {
  const pack = phone.board.get(`pack/${phone.about}`);
  if (!pack) return listPage(phone);
  const put = (/** @type {{place: string} | {robot: string}} */ to, /** @type {string} */ words) => async () => {
    const answer = await phone.acts.ask({ do: "pack.move", with: { pack: pack.id, ...to }, says: `${pack.name} is ${words}` });
    if (!answer.refusal) phone.ctx.go(`#/me/pack/${pack.id}`);
  };
  const places = byName(phone.board.all("place").filter((x) => !x.retired));
  const fits = robots(phone.ctx).filter((r) => !pack.fits?.length || pack.fits.includes(r.id));
  return phone.frame(undefined, `Pack ${pack.name}`,
    [
      choiceView(phone, pack),
      h2(null, "where it is now"),
      div({ class: "choices" }, places.map((x) => tap({ key: x.id, class: "choice", words: x.name, act: put({ place: x.id }, `at ${x.name}`) }))),
      setAside.includes(pack.state) ? null : [h2(null, "or in a robot"), div({ class: "choices" }, fits.map((r) => tap({ key: r.id, class: "choice", words: `in ${robotName(phone.ctx, r.id)}`, act: put({ robot: r.id }, `in ${r.name}`) })))],
    ],
    phone.to(`#/me/pack/${pack.id}`, "BACK", "main"));
}

/** What holds for every charge, and the event's card. @param {Phone} phone */
function cautions(phone) {
  const card = phone.board.get("event/event")?.card;
  return div({ class: "facts" },
    p({ class: "fact" }, "Whoever stays with it does not leave; leaving stops it. The charger’s own Ah and time limits are set. Never by grinding or welding, never sealed in, in the robot or on anybody."),
    p({ class: "fact" }, "Swelling, a hiss, a smell, smoke, sudden heat: raise the alarm, get clear, tell event safety."),
    p({ class: "fact" }, card?.text ? `The officials’ card: ${card.text}` : "The officials’ card is not entered."),
    p({ class: "fact" }, "Circuits, leads and generators are the venue’s or an electrician’s to decide."));
}

/** The mains circuits, and that one has gone off. @param {Phone} phone */
function circuits(phone) {
  const list = byName(phone.board.all("circuit").filter((k) => !k.retired));
  if (!list.length) return null;
  return [h2(null, "mains"), div({ class: "stack" }, list.map((k) => k.offAt
    ? p({ key: k.id, class: "fact class-a" }, `${k.name} is OFF since ${phone.ctx.clock.hhmm(k.offAt)}. Whoever answers for the wiring says when it is on again.`)
    : hold({ key: k.id, robot: k.name, words: `${k.name} HAS GONE OFF`, act: () => phone.acts.ask({ do: "circuit.off", with: { circuit: k.id }, says: `${k.name} has gone off` }) })))];
}

/** Putting a pack on a charger. @param {Phone} phone */
function chargePage(phone) {
  const pack = phone.board.get(`pack/${phone.about}`);
  if (!pack) return listPage(phone);
  const told = phone.board.get("follow/plan")?.charges?.find((k) => k.pack === pack.id);
  const { cells = "", contained } = phone.typed;
  const channel = phone.typed.channel ?? told?.channel;
  const amps = phone.typed.amps ?? String(told?.amps ?? "");
  const attendant = phone.typed.attendant ?? phone.me;
  const pick = (/** @type {string} */ name, /** @type {string} */ now, /** @type {{id: string, name: string}[]} */ list) =>
    div({ class: "choices", role: "group" }, list.map((x) => tap({ key: x.id, class: now === x.id ? "choice chosen" : "choice", words: now === x.id ? `✓ ${x.name}` : x.name, act: () => phone.type(name, x.id) })));
  const channels = byName(phone.board.all("channel").filter((x) => !x.retired));
  const crew = byName(phone.board.all("person").filter((x) => !x.retired && !x.minor && !x.guest));
  const ready = channel && Number(cells) > 0 && Number(amps) > 0 && contained;
  return phone.frame(undefined, `Charge ${pack.name}`,
    [
      told ? p({ class: "fact" }, `The plan: ${phone.board.get(`channel/${told.channel}`)?.name ?? "?"} at ${told.amps} A from ${phone.ctx.clock.hhmm(told.startAt)}, for ${robotName(phone.ctx, told.robot)}.`) : null,
      h2(null, "on which channel"),
      channels.length ? pick("channel", channel ?? "", channels) : p({ class: "lead" }, "No charger is on the board. The captain enters one."),
      h2(null, "cells, counted on the balance lead"),
      div({ class: "choices four" }, ["1", "2", "3", "4", "5", "6", "7", "8", "10", "12"].map((n) => tap({ key: n, class: cells === n ? "choice chosen" : "choice", words: n, act: () => phone.type("cells", n) }))),
      pad({ id: "amps", label: `amps, at most ${pack.maxChargeAmps}`, value: amps, point: true, set: (text) => phone.type("amps", text) }),
      tap({ class: contained ? "wide chosen" : "wide", words: contained ? "✓ in its fire-resistant bag or box" : "in its fire-resistant bag or box?", act: () => phone.type("contained", contained ? "" : "yes") }),
      h2(null, "who stays with it"),
      pick("attendant", attendant, crew),
      cautions(phone),
    ],
    [
      div({ class: "row" }, phone.to(`#/me/pack/${pack.id}`, "leave it")),
      div({ class: "gap" }),
      tap({ class: "main", words: `${pack.name} IS ON CHARGE`, off: !ready, act: async () => {
        const answer = await phone.acts.ask({
          do: "pack.charge", with: { pack: pack.id, channel: channel ?? "", attendant, cells: Number(cells), amps: Number(amps), contained: true }, says: `${pack.name} is on charge`,
        });
        if (!answer.refusal) phone.ctx.go(`#/me/pack/${pack.id}`);
      } }),
    ]);
}

/** The pages of this module by name. @type {Record<string, (phone: Phone) => import("./tags.js").Node>} */
export const pages = { packs: listPage, fights: fightsPage, pack: packPage, read: readPage, move: movePage, charge: chargePage };
