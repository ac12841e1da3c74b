// Pack: what each battery is known to be, where it is, and what is read off it.

import { ago, b, div, h2, hold, input, label, p, tap } from "./tags.js";
import { nameOf, packWords, placeOf } from "./words.js";
import { byName, pad, robotName, robots } from "./screen.js";

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

/** All packs. @param {Phone} phone */
function listPage(phone) {
  const packs = byName(phone.board.all("pack").filter((k) => !k.retired));
  return phone.frame(undefined, "Packs",
    div({ class: "stack" }, packs.map((pack) => div({ class: "item", key: pack.id },
      phone.to(`#/me/pack/${pack.id}`, `${pack.name} · ${wordOf(phone, pack)}`),
      p({ class: "fact" }, whereOf(phone, pack))))),
    phone.to("#/me", "MY NEXT MOVE", "main"));
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
        p({ class: "fact" }, `${pack.cells} cells, ${pack.capacityAh} Ah${forRobot ? ` · for ${robotName(phone.ctx, forRobot)}` : ""}`),
        readingView(phone, pack)),
      chargeView(phone, pack),
      aside && pack.state !== "gone"
        ? div({ class: "grid" }, pack.state === "suspect" ? state("quarantined") : null, state("gone"))
        : aside || pack.robot || pack.state === "charging" ? null : div({ class: "grid" }, phone.to(`#/me/charge/${pack.id}`, "charge it"), state("cooling"), state("waiting"), state("storage")),
    ],
    [
      div({ class: "row" },
        aside ? null : phone.to(`#/me/read/${pack.id}`, "reading"),
        phone.to(`#/me/move/${pack.id}`, "it is moved"),
        phone.to("#/me/packs", "back")),
      div({ class: "gap" }),
      aside
        ? phone.to("#/me", "MY NEXT MOVE", "main")
        : hold({ class: "main", robot: pack.name, words: `SET ASIDE ${pack.name}, for good`, act: () => phone.acts.ask({ do: "pack.set", with: { pack: pack.id, state: "suspect" }, says: `${pack.name} is set aside` }) }),
    ]);
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
    r.milliOhm ? `${r.milliOhm} mΩ` : "",
    r.charged ? "the charger had ended" : "",
  ];
  return [p(null, b(null, facts.filter(Boolean).join(" · "))), p({ class: "fact" }, "read ", ago({ since: r.at }), ` ago by ${nameOf(phone.board, r.by)}`)];
}

/** The names of the fields of a reading, in the order in which they are typed. @param {Pack} pack */
const fieldsOf = (pack) => [...Array.from({ length: pack.cells }, (_, i) => `cell${i + 1}`), "temp", "ohm"];

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
      div({ class: "pad-keys" },
        "123".split("").map(key), tap({ key: "back", class: "pad-key", words: "back", act: () => phone.type(at, value.slice(0, -1)) }),
        "456".split("").map(key), key("."), "7890".split("").map(key)),
    ],
    [
      div({ class: "row" },
        phone.to(`#/me/pack/${pack.id}`, "leave it"),
        tap({ class: charged ? "chosen" : "", words: charged ? "✓ charger ended" : "charger ended?", act: () => phone.type("charged", charged ? "" : "yes") }),
        tap({ words: "next", act: () => nextField(phone, pack, at) })),
      div({ class: "gap" }),
      tap({ class: "main", words: "THIS IS WHAT I READ", off: !fieldsOf(pack).some((name) => phone.typed[name]), act: () => sendReading(phone, pack) }),
    ]);
}

/** @param {Phone} phone @param {Pack} pack @param {string} name @param {string} at */
function cellView(phone, pack, name, at) {
  const words = name === "temp" ? "°C" : name === "ohm" ? "mΩ" : name.replace("cell", "cell ");
  return div({ class: name === at ? "cell here" : "cell", key: name },
    label({ for: name }, words),
    input({ id: name, type: "text", inputMode: "none", autoComplete: "off", value: phone.typed[name] ?? "",
      onFocus: () => phone.typed.at !== name && phone.type("at", name),
      onInput: (e) => typeField(phone, pack, name, e.currentTarget.value) }));
}

/** @param {Phone} phone @param {Pack} pack */
async function sendReading(phone, pack) {
  const number = (/** @type {string} */ name) => (phone.typed[name] ? Number(phone.typed[name]) : undefined);
  const cells = fieldsOf(pack).filter((name) => name.startsWith("cell")).map(number).filter((v) => v !== undefined);
  const answer = await phone.acts.ask({
    do: "pack.read",
    with: {
      pack: pack.id,
      ...(cells.length ? { cellVolts: cells } : {}),
      ...(phone.typed.temp ? { tempC: number("temp") } : {}),
      ...(phone.typed.ohm ? { milliOhm: number("ohm") } : {}),
      ...(phone.typed.charged === "yes" ? { charged: true } : {}),
    },
    says: `reading of ${pack.name}`,
  });
  if (!answer.refusal) phone.ctx.go(`#/me/pack/${pack.id}`);
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
  return phone.frame(undefined, `Where is ${pack.name} now?`,
    [
      div({ class: "choices" }, places.map((x) => tap({ key: x.id, class: "choice", words: x.name, act: put({ place: x.id }, `at ${x.name}`) }))),
      setAside.includes(pack.state) ? null : [h2(null, "or in a robot"), div({ class: "choices" }, fits.map((r) => tap({ key: r.id, class: "choice", words: robotName(phone.ctx, r.id), act: put({ robot: r.id }, `in ${r.name}`) })))],
    ],
    phone.to(`#/me/pack/${pack.id}`, "BACK", "main"));
}

/** Putting a pack on a charger. @param {Phone} phone */
function chargePage(phone) {
  const pack = phone.board.get(`pack/${phone.about}`);
  if (!pack) return listPage(phone);
  const { channel, cells = "", amps = "", contained } = phone.typed;
  const attendant = phone.typed.attendant ?? phone.me;
  const pick = (/** @type {string} */ name, /** @type {string} */ now, /** @type {{id: string, name: string}[]} */ list) =>
    div({ class: "choices", role: "group" }, list.map((x) => tap({ key: x.id, class: now === x.id ? "choice chosen" : "choice", words: now === x.id ? `✓ ${x.name}` : x.name, act: () => phone.type(name, x.id) })));
  const channels = byName(phone.board.all("channel").filter((x) => !x.retired));
  const crew = byName(phone.board.all("person").filter((x) => !x.retired && !x.minor && !x.guest));
  const ready = channel && Number(cells) > 0 && Number(amps) > 0 && contained;
  return phone.frame(undefined, `Charge ${pack.name}`,
    [
      h2(null, "on which channel"),
      channels.length ? pick("channel", channel ?? "", channels) : p({ class: "lead" }, "No charger is on the board. The captain enters one."),
      h2(null, "cells, counted on the balance lead"),
      div({ class: "choices four" }, ["1", "2", "3", "4", "5", "6", "7", "8", "10", "12"].map((n) => tap({ key: n, class: cells === n ? "choice chosen" : "choice", words: n, act: () => phone.type("cells", n) }))),
      pad({ id: "amps", label: `amps, at most ${pack.maxChargeAmps}`, value: amps, point: true, set: (text) => phone.type("amps", text) }),
      tap({ class: contained ? "wide chosen" : "wide", words: contained ? "✓ in its fire-resistant bag or box" : "in its fire-resistant bag or box?", act: () => phone.type("contained", contained ? "" : "yes") }),
      h2(null, "who stays with it"),
      pick("attendant", attendant, crew),
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
export const pages = { packs: listPage, pack: packPage, read: readPage, move: movePage, charge: chargePage };
