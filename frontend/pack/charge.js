// Putting a pack on a charger: what is counted, set and said first, and what holds for
// every charge.

import { div, h2, input, label, p, tap } from "../core/tags.js";
import { padKeys } from "../core/pad.js";
import { byName, robotName } from "../core/screen.js";

/** @typedef {import("../phone/page.js").Phone} Phone */
/** @typedef {import("../core/wire.d.ts").Pack} Pack */
/** @typedef {import("../core/wire.d.ts").Channel} Channel */

/** To what a cell is charged, by chemistry. */
const limitVolts = { lipo: "4.20 V", "lipo-hv": "4.35 V, only if its label says so", "li-ion": "4.20 V", life: "3.65 V" };

export const mainsWords = "The venue or an electrician decides about circuits, leads and generators.";

/** When to raise the alarm, and the event's card: the board has no advice of its own. @param {Phone} phone */
export function alarmLines(phone) {
  const card = phone.board.get("event/event")?.card;
  return [
    p({ key: "signs", class: "fact" },
      "Swelling, a hiss, a smell, smoke, sudden heat, volts that drop: raise the alarm, get clear, tell event safety."),
    p({ key: "card", class: "fact" }, card?.text ? `The officials’ card: ${card.text}` : "The officials’ card is not entered."),
  ];
}

/** What holds for every charge. @param {Phone} phone @param {Pack} pack */
function cautions(phone, pack) {
  const limit = limitVolts[/** @type {keyof typeof limitVolts} */ (pack.chemistry)];
  return div({ class: "facts" }, [
    `Set by hand: ${pack.chemistry}, ${pack.cells} cells${limit ? `, ${limit} a cell` : ""}, and the charger’s own Ah and time limits. ` +
      `The board raises none of them.`,
    "Pack volts cannot tell how many cells there are. Where hand, record and charger differ, do not charge.",
    "Not above 45 °C or below 5 °C, not with cells 0.10 V apart or out of limits, not unread.",
    "The person who stays with it does not leave; leaving stops it.",
    "Never near grinding or welding, never sealed in, never in the robot or on a person. One pack a channel: no parallel board.",
  ].map((words) => p({ key: words, class: "fact" }, words)), alarmLines(phone), p({ class: "fact" }, mainsWords));
}

/** The most amps by label, channel and, unless someone allowed more, 1C. @param {Pack} pack @param {Channel | undefined} channel */
const mostAmps = (pack, channel) =>
  Math.min(pack.chargeAmpsMost, channel?.ampsMost ?? Infinity, pack.fasterBy ? Infinity : pack.capacityAh);

/** What of the form is typed or picked, or follows from the plan until it is. @param {Phone} phone @param {Pack} pack */
function filled(phone, pack) {
  const told = phone.board.get("follow/plan")?.charges?.find((k) => k.pack === pack.id);
  const taken = phone.board.all("pack").some((o) => Boolean(o.channel) && o.channel === told?.channel);
  const {
    cells = "", contained = "", channel = (!taken && told?.channel) || "", amps = String(told?.amps ?? ""), attendant = phone.me,
  } = phone.typed;
  return { told, cells, contained, channel, amps, attendant };
}

/** @param {Phone} phone @param {Pack} pack */
export function chargeForm(phone, pack) {
  const { told, cells, contained, channel, amps, attendant } = filled(phone, pack);
  const crew = byName(phone.board.all("person").filter((x) => !x.retired && !x.minor && !x.guest));
  const ready = channel && Number(cells) > 0 && Number(amps) > 0 && contained;
  return phone.frame(undefined, `Charge ${pack.name}`,
    [
      told
        ? p({ class: "fact" },
          `The plan: ${phone.board.get(`channel/${told.channel}`)?.name ?? "?"} at ${told.amps} A from ` +
            `${phone.ctx.clock.hhmm(told.startAt)}, for ${robotName(phone.ctx, told.robot)}.`)
        : null,
      h2(null, "on which channel"),
      channelsView(phone, pack, channel),
      figuresView(phone, cells, amps, mostAmps(pack, phone.board.get(`channel/${channel}`))),
      tap({
        class: contained ? "wide chosen" : "wide",
        words: contained
          ? "✓ in its fire-resistant bag or box, clear of what burns"
          : "in its fire-resistant bag or box, clear of anything that burns?",
        act: () => phone.type("contained", contained ? "" : "yes"),
      }),
      h2(null, "who stays with it"),
      div({ class: "choices", role: "group" },
        crew.map((x) => choice(x.id, x.name, attendant === x.id, () => phone.type("attendant", x.id)))),
      attendant === phone.me ? null : p({ class: "fact" }, "They say so on their own phone, within ten minutes."),
      cautions(phone, pack),
    ],
    [
      div({ class: "row" }, phone.to(`#/me/pack/${pack.id}`, "cancel")),
      tap({ class: "main", words: `${pack.name} IS ON CHARGE`, off: !ready, act: async () => {
        const answer = await phone.acts.ask({
          do: "pack.charge", with: { pack: pack.id, channel, attendant, cells: Number(cells), amps: Number(amps), contained: true },
          says: `${pack.name} is on charge`,
        });
        if (!answer.refusal) phone.ctx.go(`#/me/pack/${pack.id}`);
      } }),
    ]);
}

/** @param {string} key @param {string} words @param {boolean} chosen @param {() => void} act @param {boolean} [off] */
const choice = (key, words, chosen, act, off = false) =>
  tap({ key, class: chosen ? "choice chosen" : "choice", words: chosen ? `✓ ${words}` : words, off, act });

/** The channels; one that is taken, or too small for the pack, says so. @param {Phone} phone @param {Pack} pack @param {string} chosen */
function channelsView(phone, pack, chosen) {
  const channels = byName(phone.board.all("channel").filter((x) => !x.retired));
  if (!channels.length) return p({ class: "lead" }, "No charger is on the board. The captain enters one.");
  return div({ class: "choices", role: "group" }, channels.map((x) => {
    const on = phone.board.all("pack").find((o) => o.channel === x.id);
    const why = on ? `${on.name} is on it` : x.cellsMost < pack.cells ? `${x.cellsMost} cells at most` : "";
    return choice(x.id, why ? `${x.name}: ${why}` : x.name, chosen === x.id, () => phone.type("channel", x.id), Boolean(why));
  }));
}

/** Cells and amps on the same keys. @param {Phone} phone @param {string} cells @param {string} amps @param {number} most */
function figuresView(phone, cells, amps, most) {
  const at = phone.typed.at ?? "cells";
  const value = at === "cells" ? cells : phone.typed.amps ?? ""; // the plan's current is not typed on, but over
  /** @param {string} name @param {string} words @param {string} now */
  const field = (name, words, now) => div({ class: name === at ? "cell here" : "cell", key: name },
    label({ for: name }, words),
    input({ id: name, type: "text", inputMode: "none", autoComplete: "off", value: now,
      onFocus: () => phone.typed.at !== name && phone.type("at", name),
      onInput: (e) => phone.type(name, e.currentTarget.value.replace(",", ".").replace(/[^\d.]/g, "")) }));
  return [
    div({ class: "cells two", key: "figures" }, field("cells", "cells, by hand", cells), field("amps", `A, at most ${most}`, amps)),
    p({ class: "hint", key: "count" }, "Count the cells on the balance lead."),
    padKeys(value, (text) => phone.type(at, text), at === "amps"),
  ];
}
