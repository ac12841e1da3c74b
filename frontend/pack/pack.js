// Pack: what each battery is known to be, where it is, and what is read off it.

import { ago, b, div, h2, hold, p, tap } from "../core/tags.js";
import { minutes, nameOf, packWords, placeOf } from "../core/words.js";
import { emergencyButton } from "./aside.js";
import { attendButton, attendLine, offButton } from "./attend.js";
import { alarmLines, chargeForm, mainsWords } from "./charge.js";
import { lookWords, readingForm } from "./read.js";
import { byName, robotName, robots } from "../core/screen.js";
import { fightPacksView } from "./fightpacks.js";

/** @typedef {import("../phone/page.js").Phone} Phone */
/** @typedef {import("../core/wire.d.ts").Pack} Pack */

const setAside = ["suspect", "quarantined", "gone"];

/** What is foretold of a pack, unless it has been read since. @param {Phone} phone @param {Pack} pack */
function viewOf(phone, pack) {
  const v = phone.board.get(`packview/${pack.id}`);
  return v && (v.readAt ?? "") === (pack.reading?.at ?? "") ? v : undefined;
}

/** @param {Phone} phone @param {Pack} pack */
const wordOf = (phone, pack) => viewOf(phone, pack)?.word ?? packWords[pack.state];

/** @param {Phone} phone @param {Pack} pack */
function whereOf(phone, pack) {
  if (pack.robot) return `in ${robotName(phone.ctx, pack.robot)}`;
  return placeOf(phone.board, pack.place) || "nobody has said where";
}

/** What it drives, where that is not a robot as a whole. @param {Pack} pack */
const useOf = (pack) => (pack.use === "main" ? "" : `${pack.use} pack`);

/** In a line: its word, and when it is ready or why it must be read. @param {Phone} phone @param {Pack} pack */
function lineOf(phone, pack) {
  const v = viewOf(phone, pack);
  if (v?.again && !setAside.includes(pack.state)) return v.readAt ? `read again: ${v.again}` : v.again;
  return v?.readyAt
    ? `${isPast(phone, v.readyAt) ? "due since" : "ready"} ${phone.ctx.clock.hhmm(v.readyAt)}, bad case ${phone.ctx.clock.hhmm(v.badAt)}`
    : "";
}

/** @param {Phone} phone @param {string} time */
const isPast = (phone, time) => Date.parse(time) < phone.ctx.clock.now();

/** All packs. @param {Phone} phone */
function listPage(phone) {
  const packs = byName(phone.board.all("pack").filter((k) => !k.retired));
  return phone.frame(undefined, "Packs",
    [
      phone.to("#/me/fights", "which packs for which fight"),
      div({ class: "stack" }, packs.map((pack) => div({ class: "item", key: pack.id },
        phone.to(`#/me/pack/${pack.id}`, `${pack.name} · ${wordOf(phone, pack)}`),
        p({ class: "fact" }, [useOf(pack), whereOf(phone, pack), lineOf(phone, pack)].filter(Boolean).join(" · "))))),
      circuits(phone),
    ],
    phone.to("#/me", "MY NEXT MOVE", "main"));
}

/** Which packs each fight finds. @param {Phone} phone */
function fightsPage(phone) {
  return phone.frame(undefined, "Packs by fight",
    [fightPacksView(phone.ctx), p({ class: "hint" }, "These are forecasts: only a reading makes a pack charged.")],
    [div({ class: "row" }, phone.to("#/me/packs", "back")), phone.to("#/me", "MY NEXT MOVE", "main")]);
}

/** One pack. @param {Phone} phone */
function packPage(phone) {
  const pack = phone.board.get(`pack/${phone.about}`);
  if (!pack) return listPage(phone);
  const aside = setAside.includes(pack.state);
  return phone.frame(undefined, `Pack ${pack.name}`,
    [
      p({ class: aside ? "pack-word class-a" : "pack-word" }, wordOf(phone, pack)),
      aside
        ? p({ class: "fact" }, "Hands off: event safety says what becomes of it. ",
          "Nothing brings it back: it is not charged, topped up, balanced or revived, and does not go into any robot.")
        : timesView(phone, pack),
      div({ class: "facts" }, readView(phone, pack)),
      div({ class: "grid" }, actsOf(phone, pack)),
      div({ class: "facts" }, factsView(phone, pack), aside || pack.state === "charging" ? alarmLines(phone) : null),
      aside && pack.state !== "gone"
        ? goneButton(phone, pack)
        : hold({
          class: "for-good", robot: pack.name, words: `SET ASIDE ${pack.name}, for good`,
          act: () => phone.acts.ask({ do: "pack.set", with: { pack: pack.id, state: "suspect" }, says: `${pack.name} is set aside` }),
        }),
    ],
    [
      pack.state === "gone"
        ? phone.to("#/me", "MY NEXT MOVE", "main")
        : aside ? emergencyButton(phone, pack) : phone.to(`#/me/read/${pack.id}`, "READING", "main"),
    ]);
}

/** What can be done with it, what is done most first. @param {Phone} phone @param {Pack} pack */
function actsOf(phone, pack) {
  const state = (/** @type {"unread" | "cooling" | "waiting" | "storage" | "quarantined"} */ to) =>
    tap({
      key: to, words: packWords[to].toLowerCase(),
      act: () => phone.acts.ask({ do: "pack.set", with: { pack: pack.id, state: to }, says: `${pack.name}: ${packWords[to]}` }),
    });
  const aside = setAside.includes(pack.state);
  const others = [phone.to(`#/me/move/${pack.id}`, aside ? "where it is now" : "move, keep"), phone.to("#/me/packs", "back")];
  if (aside) {
    const worse = pack.state === "gone" ? null : phone.to(`#/me/read/${pack.id}`, "it smokes, smells, swells");
    return [worse, pack.state === "suspect" ? state("quarantined") : null, pack.lost ? state("unread") : null, others];
  }
  const lies = !pack.robot && pack.state !== "charging";
  return [
    attendButton(phone, pack),
    pack.state === "charging" ? offButton(phone, pack) : null,
    lies ? phone.to(`#/me/charge/${pack.id}`, "charge it") : null,
    others,
    lies
      ? ["cooling", "waiting", "storage"]
        .filter((to) => to !== pack.state)
        .map((to) => state(/** @type {"cooling" | "waiting" | "storage"} */ (to)))
      : null,
  ];
}

/** @param {Phone} phone @param {Pack} pack */
const goneButton = (phone, pack) => hold({
  key: "gone", class: "for-good", robot: pack.name, words: `${pack.name} IS GONE, handed over`,
  act: () => phone.acts.ask({ do: "pack.set", with: { pack: pack.id, state: "gone" }, says: `${pack.name}: ${packWords.gone}` }),
});

/** When it is cool and charged by the readings, or why it must be read again. @param {Phone} phone @param {Pack} pack */
function timesView(phone, pack) {
  const v = viewOf(phone, pack);
  if (!v) return null;
  const at = (/** @type {string | undefined} */ time) => phone.ctx.clock.hhmm(time);
  return div({ class: "facts" },
    v.again ? p(null, b(null, v.readAt ? "READ AGAIN: " : "READ IT: "), v.again) : null,
    v.readyAt
      ? p(null,
        b({ class: "ready-at" }, `${isPast(phone, v.readyAt) ? "DUE SINCE" : "READY"} ${at(v.readyAt)}`),
        ` · bad case ${at(v.badAt)}`)
      : v.takesSec
        ? p({ class: "fact" }, `${minutes(v.takesSec)} min on a charger, bad case ${minutes(v.takesBadSec ?? v.takesSec)}`)
        : null,
    v.coolAt ? p({ class: "fact" }, `cool enough about ${at(v.coolAt)}, bad case ${at(v.coolBadAt)}`) : null,
    v.readyAt || v.coolAt ? p({ class: "fact" }, `not before ${at(v.earlyAt ?? v.coolAt)}; only a reading makes it so`) : null,
    v.caution ? p({ class: "fact class-b" }, v.caution) : null,
    pack.state === "charging" && v.badAt
      ? p({ class: "fact" }, `Stop it and look past ${at(v.badAt)}, or when it has taken more than ${mostAh(pack)} Ah.`)
      : null);
}

/** What the charger's counter should never pass: what it holds and a twentieth. @param {Pack} pack */
const mostAh = (pack) => Number((1.05 * pack.capacityAh).toPrecision(3));

/** Where it is, what it is, who stays with it. @param {Phone} phone @param {Pack} pack */
function factsView(phone, pack) {
  const forRobot = phone.board.get(`packview/${pack.id}`)?.for;
  return [
    p({ class: "fact" }, readingLine(pack)),
    pack.state === "charging"
      ? p({ class: "fact" },
        `on ${phone.board.get(`channel/${pack.channel ?? ""}`)?.name ?? "a charger"}${pack.amps ? ` at ${pack.amps} A` : ""} · ` +
          attendLine(phone, pack))
      : pack.channel ? p({ class: "fact" }, `still on ${phone.board.get(`channel/${pack.channel}`)?.name ?? "a charger"}`) : null,
    p({ class: "fact" },
      whereOf(phone, pack),
      pack.since && (pack.robot || pack.place) ? [" · since ", phone.ctx.clock.hhmm(pack.since)] : null),
    p({ class: "fact" },
      `${useOf(pack) ? `${useOf(pack)}, ` : ""}${pack.cells} cells, ${pack.capacityAh} ` +
        `Ah${forRobot ? ` · ${pack.chosenFor === forRobot ? "kept for" : "for"} ${robotName(phone.ctx, forRobot)}` : ""}`),
  ];
}

/** The robot whose next fight someone chose it for, or may. @param {Phone} phone @param {Pack} pack */
function choiceView(phone, pack) {
  const choose = (/** @type {string | undefined} */ robot, /** @type {string} */ says) =>
    phone.acts.ask({ do: "pack.choose", with: { pack: pack.id, robot }, says, undo: true });
  if (setAside.includes(pack.state) || pack.robot || pack.use === "tool" || pack.use === "transmitter") return null;
  if (!pack.fits?.length) return p({ class: "lead" }, "It is not planned for any fight: the captain says which robots it fits.");
  const fits = robots(phone.ctx).filter((r) => pack.fits?.includes(r.id) && !r.withdrawn);
  if (!fits.length) return null;
  return [h2(null, "keep it for a next fight"), div({ class: "choices" }, fits.map((r) => (pack.chosenFor === r.id
    ? tap({
      key: r.id, class: "choice chosen", words: `✓ for ${robotName(phone.ctx, r.id)}`,
      act: () => choose(undefined, `${pack.name} is kept for no robot`),
    })
    : tap({
      key: r.id, class: "choice", words: `for ${robotName(phone.ctx, r.id)}`,
      act: () => choose(r.id, `${pack.name} is kept for ${robotName(phone.ctx, r.id)}`),
    }))))];
}

/** The space of a figure and its unit, which stay in one line. */
const NBSP = "\u00a0";

/** What was read last: of the cells the lowest, and how warm. @param {Phone} phone @param {Pack} pack */
function readView(phone, pack) {
  const r = pack.reading;
  if (!r?.at) return phone.board.get(`packview/${pack.id}`)?.again ? null : p({ class: "fact" }, "nobody has read it yet");
  const volts = r.cellVolts ?? [];
  const low = Math.min(...volts);
  const facts = [
    volts.length ? `lowest ${low.toFixed(2)}${NBSP}V` : "",
    volts.length > 1 ? `${(Math.max(...volts) - low).toFixed(2)}${NBSP}apart` : "",
    r.tempC === undefined || r.tempC === null ? "" : `${r.tempC}${NBSP}°C`,
  ];
  const before = pack.usedAt && Date.parse(r.at) < Date.parse(pack.usedAt) && pack.state !== "charging";
  return [
    p(null, b(null, facts.filter(Boolean).join(" · "))),
    p({ class: "fact" }, "read ", ago({ since: r.at }), ` ago by ${nameOf(phone.board, r.by)}${before ? ", before it was used" : ""}`),
  ];
}

/** The rest of what was read last. @param {Pack} pack */
function readingLine(pack) {
  const r = pack.reading;
  const volts = r?.cellVolts ?? [];
  return [
    volts.length > 1 ? `cells ${volts.map((v) => v.toFixed(2)).join(" ")}` : "",
    r?.airC === undefined || r.airC === null ? "" : `room ${r.airC} °C`,
    r?.milliOhm ? `${r.milliOhm} mΩ` : "",
    r?.returnedAh ? `${r.returnedAh} Ah went in` : "",
    r?.look ? lookWords[r.look] : "",
    r?.charged ? "the charger had ended" : "",
  ].filter(Boolean).join(" · ");
}

/** Typing a reading. @param {Phone} phone */
function readPage(phone) {
  const pack = phone.board.get(`pack/${phone.about}`);
  return pack ? readingForm(phone, pack) : listPage(phone);
}

/** The rule about what may be fitted: what is in a robot all the same can be said. */
const FITTED = 11;

/** Where a pack is now. @param {Phone} phone */
function movePage(phone) {
  const pack = phone.board.get(`pack/${phone.about}`);
  if (!pack) return listPage(phone);
  const put = (/** @type {{place: string} | {robot: string, found?: boolean}} */ to, /** @type {string} */ words) => async () => {
    const answer = await phone.acts.ask({ do: "pack.move", with: { pack: pack.id, ...to }, says: `${pack.name} is ${words}` });
    if (!answer.refusal) phone.ctx.go(`#/me/pack/${pack.id}`);
    else if ("robot" in to && answer.refusal.rule === FITTED) phone.type("found", to.robot);
  };
  const { found } = phone.typed;
  const places = byName(phone.board.all("place").filter((x) => !x.retired));
  const listed = (/** @type {{id: string}} */ r) => Number(pack.fits?.includes(r.id) ?? false);
  const fits = [...robots(phone.ctx)].sort((a, b) => listed(b) - listed(a));
  return phone.frame(undefined, `Pack ${pack.name}`,
    [
      choiceView(phone, pack),
      h2(null, "where it is now"),
      div({ class: "choices" },
        places.map((x) => tap({ key: x.id, class: "choice", words: x.name, act: put({ place: x.id }, `at ${x.name}`) }))),
      setAside.includes(pack.state)
        ? null
        : [
          h2(null, "or in a robot"),
          found
            ? tap({
              key: "found", class: "wide", words: `it is in ${robotName(phone.ctx, found)} already: found there`,
              act: put({ robot: found, found: true }, `found in ${robotName(phone.ctx, found)}`),
            })
            : null,
          div({ class: "choices" },
            fits.map((r) =>
              tap({ key: r.id, class: "choice", words: `in ${robotName(phone.ctx, r.id)}`, act: put({ robot: r.id }, `in ${r.name}`) }))),
        ],
    ],
    phone.to(`#/me/pack/${pack.id}`, "BACK", "main"));
}

/** The mains circuits, and that one has no power. @param {Phone} phone */
function circuits(phone) {
  const list = byName(phone.board.all("circuit").filter((k) => !k.retired));
  if (!list.length) return null;
  return [h2(null, "mains"), p({ class: "fact" }, mainsWords), div({ class: "stack" }, list.map((k) => k.offAt
    ? p({ key: k.id, class: "fact class-a" },
      `${k.name} is OFF since ${phone.ctx.clock.hhmm(k.offAt)}. Whoever answers for the wiring says when it is on again.`)
    : hold({
      key: k.id, robot: k.name, words: `${k.name} HAS NO POWER`,
      act: () => phone.acts.ask({ do: "circuit.off", with: { circuit: k.id }, says: `${k.name} has no power` }),
    })))];
}

/** Putting a pack on a charger. @param {Phone} phone */
function chargePage(phone) {
  const pack = phone.board.get(`pack/${phone.about}`);
  return pack ? chargeForm(phone, pack) : listPage(phone);
}

/** The pages of this module by name. @type {Record<string, (phone: Phone) => import("../core/tags.js").Node>} */
export const pages = { packs: listPage, fights: fightsPage, pack: packPage, read: readPage, move: movePage, charge: chargePage };
