// Captain: the plan that people follow. A time line of calls, people and stations,
// what changed since the plan before, the two calls of an open result, spares that
// may not last, and the team's own times. All that is worked out here is where
// things are drawn.

import { b, div, h2, h3, left, li, p, span, tap, ul } from "../core/tags.js";
import { chanceView } from "../core/chance.js";
import { wholeMinutes } from "../core/clock.js";
import { ifWords, listNames, minutes, nameOf, robotOf } from "../core/words.js";
import { byName, flagView, revOf, robotName, robots, sawOf } from "../core/screen.js";

/** @typedef {import("./captain.js").Captain} Captain */
/** @typedef {import("../core/wire.d.ts").Call} Call */
/**
 * @typedef {object} Block
 * @property {number} from
 * @property {number} to
 * @property {number} bad
 * @property {string} key
 * @property {string} cls
 * @property {string} text
 * @property {string} what
 * @property {boolean} moved
 * @property {boolean} late
 */

const MINUTE = 60_000;
const SPAN_LEAST_MS = 30 * MINUTE;
const SPAN_MOST_MS = 6 * 60 * MINUTE;
/** Between two hours on the axis there is at least this share of its width. */
const TICK_SHARE = 0.09;
/** How much of a track the words of a block may have for themselves. */
const WORDS_SHARE = 0.3;
const TICKS_MIN = [5, 10, 15, 30, 60, 120];

/** @param {Captain} captain */
export function planView(captain) {
  return div(
    { class: "plan" },
    div({ class: "plan-main" }, timeLine(captain), changedView(captain), calibrationView(captain), learnedView(captain)),
    div({ class: "list plan-beside" }, remediesView(captain), branchesView(captain), postponeView(captain), scarceView(captain)),
  );
}

/** @param {Captain} captain */
function timeLine(captain) {
  const { board, ctx } = captain;
  const blocks = planned(captain);
  const now = ctx.clock.now();
  const end = Math.max(
    ...blocks.map((x) => x.block.to),
    ...board.all("call").flatMap((c) => callsOf(c).map((x) => Date.parse(x.at.median))),
    now,
  ) + 5 * MINUTE;
  const long = Math.min(Math.max(end - now, SPAN_LEAST_MS), SPAN_MOST_MS);
  const x = (/** @type {number} */ t) => Math.min(1, Math.max(0, (t - now) / long));
  const people = byName(board.all("person").filter((who) =>
    !who.retired && (blocks.some((k) => k.people.includes(who.id)) || board.get(`absent/${who.id}`))));
  const stations = [...new Set(blocks.map((k) => k.station).filter(Boolean))].sort();
  const follow = board.get("follow/plan");
  return div(
    { class: "time-line" },
    div({ class: "column-head" }, h2(null, "the plan people follow"),
      p({ class: "fact" },
        follow
          ? `since ${ctx.clock.hhmm(follow.at)}, ` +
            `${follow.by === "board" ? "found by the board" : `put there by ${nameOf(board, follow.person)}`}`
          : "no plan yet: there is no job to do")),
    axis(captain, now, long, x),
    h3(null, "calls"),
    robots(ctx).map((r) => callRow(captain, r, x)),
    h3(null, "people"),
    people.map((who) =>
      row(who.id, who.name, [...away(captain, who.id), ...blocks.filter((k) => k.people.includes(who.id)).map((k) => k.block)], x)),
    h3(null, "stations"),
    stations.map((name) => row(name, name, blocks.filter((k) => k.station === name).map((k) => k.block), x)),
    blocks.some((k) => k.block.moved) ? p({ class: "fact" }, b({ class: "moved-mark" }, "≠"), " changed since the plan before") : null,
  );
}

/** The jobs that are planned, as blocks. @param {Captain} captain */
function planned({ board }) {
  const moved = board.get("follow/plan")?.moved ?? [];
  return board.all("plan").filter((x) => x.startAt && x.endAt).flatMap((plan) => {
    const job = board.get(`job/${plan.job}`);
    if (!job) return [];
    const number = board.get(`robot/${job.robot}`)?.number ?? "";
    return [{
      people: plan.people, station: plan.station ?? "",
      block: {
        from: Date.parse(plan.startAt ?? ""), to: Date.parse(plan.endAt ?? ""), bad: Date.parse(plan.badAt ?? plan.endAt ?? ""),
        key: job.id,
        cls: job.state === "running" ? "block running" : "block", text: `${job.number} ${job.name}`,
        what: `job ${job.number} ${job.name}, robot ${number}, ${listNames(plan.people.map((id) => nameOf(board, id)))}`,
        moved: moved.includes(job.id), late: plan.flag === "wont-finish",
      },
    }];
  });
}

/** @param {Captain} captain @param {string} person @returns {Block[]} */
const away = ({ board }, person) => (board.get(`absent/${person}`)?.at ?? []).map((w) => ({
  from: Date.parse(w.from), to: Date.parse(w.to), bad: Date.parse(w.to), key: w.from, cls: "block away", text: w.what, what: w.what,
  moved: false, late: false,
}));

/** @param {Captain} captain @param {number} now @param {number} long @param {(t: number) => number} x */
function axis({ ctx }, now, long, x) {
  const step = (TICKS_MIN.find((m) => (m * MINUTE) / long >= TICK_SHARE) ?? 120) * MINUTE;
  const ticks = [];
  const offset = ctx.clock.offsetMin * MINUTE;
  for (let t = Math.ceil((now + offset) / step) * step - offset; t < now + 0.9 * long; t += step) ticks.push(t);
  return div({ class: "track-row axis", "aria-hidden": "true" }, span(null), div({ class: "track" },
    ticks.map((t) => span({ key: String(t), class: "tick-hour", style: { left: per(x(t)) } }, ctx.clock.hhmm(new Date(t).toISOString())))));
}

/**
 * A row of blocks; those that overlap stand under each other, and so does what would cut a block's words short.
 * @param {string} key
 * @param {string} name
 * @param {Block[]} blocks
 * @param {(t: number) => number} x
 */
function row(key, name, blocks, x) {
  /** @type {number[]} */
  const free = [];
  const placed = [...blocks].sort((m, n) => m.from - n.from).map((block) => {
    const at = x(block.from);
    let lane = free.findIndex((until) => until <= at);
    if (lane < 0) lane = free.length;
    free[lane] = Math.max(x(block.to), at + WORDS_SHARE);
    return { block, lane };
  });
  const until = (/** @type {Block} */ block, /** @type {number} */ lane) =>
    x(placed.find((next) => next.lane === lane && next.block.from > block.from)?.block.from ?? Infinity);
  const of = Math.max(1, free.length);
  return div({ class: "track-row", key }, b({ class: "row-name" }, name),
    div({ class: "track", style: { "--lanes": of } }, placed.map(({ block, lane }) => blockView(block, lane, until(block, lane), x))));
}

/** @param {Block} block @param {number} lane @param {number} until where the next begins @param {(t: number) => number} x */
function blockView(block, lane, until, x) {
  const at = { "--lane": lane, left: per(x(block.from)) };
  return [
    block.bad > block.to
      ? div({
        class: "block-bad", key: `${block.key} bad`, "aria-hidden": "true",
        style: { ...at, left: per(x(block.to)), width: per(x(block.bad) - x(block.to)) },
      })
      : null,
    div({ class: block.late ? `${block.cls} hatch-late` : block.cls, key: block.key, role: "img", title: block.what,
      "aria-label": block.what + (block.moved ? ", changed since the plan before" : "") + (block.late ? ", won’t finish" : ""),
      style: { ...at, width: per(x(block.to) - x(block.from)) } }),
    span({ class: block.late ? "block-text late" : "block-text", key: `${block.key} words`, "aria-hidden": "true",
      style: { ...at, "max-width": per(Math.min(until, 1) - x(block.from)) } },
      block.moved ? b({ class: "moved-mark" }, "≠ ") : null,
      block.late ? span({ class: "risk-mark" }) : null,
      block.text),
  ];
}

/**
 * The calls that may come: one, or the two of an open result.
 * @param {Call} call
 * @returns {{at: import("../core/wire.d.ts").Spread, words: string}[]}
 */
function callsOf(call) {
  const list = call.callAt && call.flag !== "no-call" && !call.onNow ? [{ at: call.callAt, words: call.if ? `if ${call.if}` : "" }] : [];
  for (const x of call.branches) if (x.callAt && x.fight !== call.fight) list.push({ at: x.callAt, words: ifWords(x) });
  return list;
}

/** @param {Captain} captain @param {import("../core/wire.d.ts").Robot} robot @param {(t: number) => number} x */
function callRow({ board, ctx }, robot, x) {
  const call = board.get(`call/${robot.id}`);
  const calls = call ? callsOf(call) : [];
  return div({ class: "track-row", key: robot.id }, b({ class: "row-name" }, `${robot.number} ${robot.name}`),
    div({ class: "track", style: { "--lanes": Math.max(1, calls.length) } },
      calls.length ? null : span({ class: "no-call" }, call?.onNow ? "fight is on" : "no call"),
      calls.map(({ at, words }, lane) => {
        const [early, median, late] = [at.early, at.median, at.late].map((t) => x(Date.parse(t)));
        return [
          div({
            class: "call-spread", key: `${words} spread`, "aria-hidden": "true",
            style: { "--lane": lane, left: per(early), width: per(late - early) },
          }),
          div({ class: "call-at", key: `${words} at`, "aria-hidden": "true", style: { "--lane": lane, left: per(median) } }),
          span({
            class: "call-words", key: `${words} words`,
            style: { "--lane": lane, ...(median > 0.8 ? { right: per(1 - median) } : { left: per(median) }) },
          }, `${words} ${ctx.clock.hhmm(at.median)}`.trim()),
        ];
      })));
}

/** @param {Captain} captain */
function changedView(captain) {
  const { board, ctx } = captain;
  const follow = board.get("follow/plan");
  const charges = follow?.charges?.filter((k) => k.was) ?? [];
  if (!follow || !follow.moved.length && !charges.length) return null;
  const said = (/** @type {import("../core/wire.d.ts").Told} */ told) =>
    told.off
      ? "left off"
      : `${listNames((told.people ?? []).map((id) => nameOf(board, id))) || "nobody"}` +
        `${told.startAt ? `, ${ctx.clock.hhmm(told.startAt)}` : ""}`;
  return div({ class: "changed" },
    h3(null, `changed at ${ctx.clock.hhmm(follow.at)}`),
    ul({ class: "steps" }, follow.tasks.filter((k) => k.was).map((k) => {
      const job = board.get(`job/${k.job}`);
      const fix = (/** @type {import("../core/wire.d.ts").Told} */ told) => (k.fix !== k.was?.fix && !told.off && job
        ? `${job.fixes[told.fix ?? 0].name}, `
        : "");
      return job && k.was
        ? li({ key: k.job },
          b(null, `${job.number} ${job.name}: `),
          `${fix(k)}${said(k)}`,
          span({ class: "was" }, ` was ${fix(k.was)}${said(k.was)}`))
        : null;
    }), charges.map((k) => {
      const on = (/** @type {import("../core/wire.d.ts").ToldCharge} */ told) => `${board.get(`channel/${told.channel}`)?.name ?? "?"} ` +
        `at ${told.amps} A for ${robotName(ctx, told.robot)}, ${ctx.clock.hhmm(told.startAt)}`;
      return k.was
        ? li({ key: k.pack },
          b(null, `pack ${board.get(`pack/${k.pack}`)?.name ?? "?"}: `),
          on(k),
          span({ class: "was" }, ` was ${on(k.was)}`))
        : null;
    })));
}

/** The robots that are flagged, with what would help. @param {Captain} captain */
function remediesView(captain) {
  const { board, ctx } = captain;
  const list = robots(ctx).filter((r) => !r.withdrawn && board.get(`leaveoff/${r.id}`));
  if (!list.length) return null;
  return div({ class: "list", key: "remedies" }, h2(null, "will we make it"), list.map((r) => div({ class: "card", key: r.id },
    p(null, b(null, robotName(ctx, r.id)), " ", flagView(board.get(`call/${r.id}`)?.flag)),
    p(null, chanceView(board.get(`chance/${r.id}`))),
    captain.remedies.view(r.id))));
}

/** The two countdowns of a result that is still out. @param {Captain} captain */
function branchesView(captain) {
  const open = robots(captain.ctx).flatMap((r) => {
    const call = captain.board.get(`call/${r.id}`);
    return call?.branches.length ? [{ r, call }] : [];
  });
  if (!open.length) return null;
  return div({ class: "list", key: "branches" }, h2(null, "and after that"), open.map(({ r, call }) => div({ class: "card", key: r.id },
    p(null, b(null, `${r.number} ${r.name}`), call.onNow ? ", its fight is on" : ""),
    call.branches.map((x) => div({ class: "branch", key: x.fight },
      p(null,
        b(null, `${ifWords(x)}: `),
        x.callAt
          ? [span({ class: "call-in" }, "call in "), left({ until: x.callAt.median }), `, ${captain.ctx.clock.hhmm(x.callAt.median)}`]
          : "call not known yet",
        " ",
        flagView(x.flag === "no-call" ? "none" : x.flag)),
      p({ class: "fact" }, `${x.arena} ${x.number}${x.opponent ? ` against ${x.opponent}` : ""}`),
      x.callAt
        ? p({ class: "fact" },
          `${wholeMinutes(x.handsOnSec, "left")} hands-on min${x.shortSec ? `, short by ${minutes(x.shortSec)} min` : ""}`)
        : null)))));
}

/** @param {Captain} captain */
function postponeView(captain) {
  const { board, ctx } = captain;
  const open = robots(ctx).flatMap((r) => {
    const call = board.get(`call/${r.id}`);
    return call?.postpone && call.fight ? [{ r, postpone: call.postpone, fight: call.fight, call }] : [];
  });
  if (!open.length) return null;
  return div({ class: "list", key: "postpone" },
    h2(null, "the postponement"),
    open.map(({ r, postpone, fight, call }) => div({ class: "card", key: r.id },
      p(null, b(null, `${r.number} ${r.name}`), ` ${call.arena} ${call.number}`),
      postpone.granted ? p({ class: "fact" }, `postponed by ${minutes(postpone.sec)} min at ${ctx.clock.hhmm(postpone.granted)}`)
        : postpone.may
          ? div({ class: "card-acts" },
            tap({
              key: "granted", words: `${minutes(postpone.sec)} min granted`, label: `${minutes(postpone.sec)} min granted to ${r.name}`,
              act: () => captain.acts.ask({
                do: "fight.postpone", with: { fight }, seen: sawOf(ctx, `fight/${fight}`),
                says: `${r.name}: postponed by ${minutes(postpone.sec)} min`, undo: true }),
            }))
          : p({ class: "fact" }, postpone.why))));
}

/** Now, or a later fight? @param {Captain} captain */
function scarceView({ board }) {
  const list = board.all("scarce");
  if (!list.length) return null;
  return div({ class: "list", key: "scarce" },
    h2(null, "spares: now or later"),
    [...list].sort((m, n) => m.left - n.left).map((s) => div({ class: "card", key: s.stock },
      p(null, b(null, s.name), `, ${s.left} left`),
      s.jobs.map((k) => {
        const job = board.get(`job/${k.job}`);
        return job
          ? p({ class: "fact", key: k.job },
            `${k.takes ? "takes one now" : "does without"}: ${job.number} ${job.name}, ${robotOf(board, k.robot)}`,
            k.longerSec >= 0 ? ` (without it ${minutes(k.longerSec)} min longer)` : " (no other way)") : null;
      }),
      p({ class: "fact" },
        "still possible: ",
        s.fights
          .map((id) => board.get(`fight/${id}`))
          .filter((f) => f !== undefined)
          .map((f) => `${robotOf(board, f.robot)} ${f.arena} ${f.number}${f.if ? `, if ${f.if}` : ""}`)
          .join("; ")),
      s.fought >= 3 ? p({ class: "fact" }, `${s.used} used in ${s.fought} fights`) : null)));
}

/** Old and new beside each other; only the captain makes the new ones count. @param {Captain} captain */
function learnedView(captain) {
  const list = captain.board.all("learned");
  const tests = captain.board.get("tests/event");
  if (!list.length && !tests) return null;
  const time = (/** @type {number} */ likely, /** @type {number} */ bad) => `${minutes(likely)} / ${minutes(bad)} min`;
  return div({ class: "list learned", key: "learned" }, h2(null, "the team’s own times"),
    p({ class: "hint" }, "likely / bad case. They count only where you switch them on."),
    tests ? p({ class: "fact" },
      `failsafe tests that fail: said ${tests.saidOf100} of 100 · counted as ${tests.of100} of 100 · ` +
        `n ${tests.n}, ${tests.failed} failed`) : null,
    [...list].sort((m, n) => n.n - m.n || m.name.localeCompare(n.name)).map((k) => div({ class: "card", key: k.kind },
      p(null, b(null, k.name)),
      p({ class: "fact" },
        `said ${time(k.likelySec, k.badSec)} · own ${time(k.learnedLikelySec, k.learnedBadSec)} · ` +
          `n ${k.n}${k.open ? `, ${k.open} broken off` : ""}`),
      div({ class: "choice-row", role: "group", "aria-label": `which times count for ${k.name}` }, [false, true].map((on) => tap({
        key: String(on), class: k.on === on ? "here" : "", words: on ? "own" : "said", label: `${on ? "own" : "said"} times for ${k.name}`,
        act: () => captain.acts.ask({
          do: "learn.set", with: { kind: k.kind, on }, seen: seenIf(captain, `learn/${k.kind}`),
          says: `${k.name}: ${on ? "the team’s own times count" : "the times said count"}`, undo: true,
        }) }))))));
}

/** What was said before the calls against what came; the board says nothing of it while there are few. @param {Captain} captain */
function calibrationView({ board }) {
  const account = board.get("calibration/event");
  if (!account) return null;
  return div({ class: "list learned", key: "calibration" }, h2(null, "what was said and what came"),
    ul({ class: "steps" }, account.said.map((k) => li({ key: String(k.of10) }, `said ${k.of10} of 10: ${k.met} of ${k.n} calls met`))),
    p({ class: "fact" }, `n ${account.n} · score ${account.brier} (0 is best; 0.25 is a coin)`));
}

/** What is not on the board yet was not seen. @param {Captain} captain @param {string} key */
const seenIf = (captain, key) => (revOf(captain.ctx, key) ? sawOf(captain.ctx, key) : {});

/** @param {number} share */
const per = (share) => `${(100 * share).toFixed(2)}%`;
