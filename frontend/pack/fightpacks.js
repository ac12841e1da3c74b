// Which packs each of our fights finds, and from when: for the captain's charging
// board and the phone's list of packs.

import { b, div, p } from "../core/tags.js";
import { robotName } from "../core/screen.js";

/** @typedef {import("../core/screen.js").Ctx} Ctx */
/** @typedef {import("../core/wire.d.ts").FightPacks} FightPacks */

/** Every fight to come with its packs, the next call first. @param {Ctx} ctx */
export function fightPacksView(ctx) {
  const fights = [...ctx.board.all("fightpacks")].sort((x, y) => Date.parse(x.callAt) - Date.parse(y.callAt));
  if (!fights.length) return p({ class: "hint" }, "No fight with a known call has packs set for it.");
  return div({ class: "fight-packs" }, fights.map((f) => fightView(ctx, f)));
}

/** @param {Ctx} ctx @param {FightPacks} f */
function fightView(ctx, f) {
  const at = (/** @type {string | undefined} */ time) => ctx.clock.hhmm(time);
  const fight = ctx.board.get(`fight/${f.fight}`);
  const head = [robotName(ctx, f.robot), fight ? `${fight.arena} ${fight.number}` : "", f.if ? `if ${f.if}` : "", `in by ${at(f.by)}`];
  return div({ key: f.fight, class: "fight-pack" },
    p({ class: "fight-of" }, b(null, head.filter(Boolean).join(" · "))),
    div(null,
      f.packs.map((k) => p({ key: k.pack }, packWords(ctx, f, k))),
      f.late ? p({ class: "class-b" }, "TOO LATE in the bad case") : null,
      f.lacks ? p({ class: "class-b" }, f.lacks) : null));
}

/** @param {Ctx} ctx @param {FightPacks} f @param {FightPacks["packs"][number]} k */
function packWords(ctx, f, k) {
  const at = (/** @type {string | undefined} */ time) => ctx.clock.hhmm(time);
  const after = k.after ? ctx.board.get(`fight/${k.after}`) : undefined;
  const from = after ? `, back from ${after.arena} ${after.number}` : "";
  const ready = k.readyAt
    ? `${k.after ? "" : channelWords(ctx, f, k)}charged about ${at(k.readyAt)}, bad case ${at(k.badAt)}`
    : ctx.board.get(`packview/${k.pack}`)?.word ?? "";
  return `${ctx.board.get(`pack/${k.pack}`)?.name ?? "?"}${from}: ${ready}`;
}

/**
 * Where it charges, or is to charge from when by the plan that people follow.
 * @param {Ctx} ctx
 * @param {FightPacks} f
 * @param {FightPacks["packs"][number]} k
 */
function channelWords(ctx, f, k) {
  const pack = ctx.board.get(`pack/${k.pack}`);
  const name = (/** @type {string | undefined} */ id) => ctx.board.get(`channel/${id ?? ""}`)?.name ?? "?";
  if (pack?.state === "charging") return `on ${name(pack.channel)}, `;
  const told = ctx.board.get("follow/plan")?.charges?.find((c) => c.pack === k.pack && c.robot === f.robot);
  if (!told) return "";
  return `${name(told.channel)} ${Date.parse(told.startAt) <= ctx.clock.now() ? "now" : `from ${ctx.clock.hhmm(told.startAt)}`}, `;
}
