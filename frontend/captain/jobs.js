// Captain: the jobs of a robot by triage, a row each, with who does them, how, and what
// is left off.

import { a, div, h3, img, li, p, tap, ul } from "../core/tags.js";
import { freshFix, jobFields, whyUnlocked } from "./fields.js";
import { fieldsOf } from "./lists.js";
import { about, folded, kept, row } from "./row.js";
import { heldWords, jobWords, listNames, minutes, nameOf, partMinutes } from "../core/words.js";
import { flagView, robotName, sawOf } from "../core/screen.js";

/** @typedef {import("./captain.js").Captain} Captain */
/** @typedef {import("../core/wire.d.ts").Job} Job */

const triageOrder = /** @type {const} */ (["must", "should", "could"]);
const toDo = ["running", "held", "open"];

/** @param {Captain} captain @param {string} robot */
export function jobsView(captain, robot) {
  const jobs = captain.board.all("job").filter((j) => j.robot === robot);
  const name = robotName(captain.ctx, robot);
  const work = jobs
    .filter((j) => toDo.includes(j.state))
    .sort((x, y) => toDo.indexOf(x.state) - toDo.indexOf(y.state) || x.number - y.number);
  const ended = jobs.filter((j) => !toDo.includes(j.state)).sort((x, y) => y.number - x.number);
  return div(
    { class: "jobs" },
    triageOrder.map((triage) => {
      const here = work.filter((j) => j.triage === triage);
      return here.length ? [h3({ key: triage }, `${triage} · ${here.length}`), here.map((j) => jobView(captain, j))] : null;
    }),
    ended.length
      ? folded(captain, `ended ${robot}`, `${name}: finished, closed or left off · ${ended.length}`,
        () => ended.map((j) => jobView(captain, j)))
      : null,
    div({ class: "card-acts" }, about(name, tap({ words: "add a job", act: () => captain.open({
      title: "A new job", do: "job.add", fields: newJobFields, from: { fixes: firstFix(captain), reason: "" }, also: { robot },
      says: "job added", undo: true,
    }) }))),
  );
}

/** @type {import("./fields.js").Field[]} */
const newJobFields = [
  ...jobFields.filter((f) => ["template", "name"].includes(f.name)),
  {
    name: "people", label: "who does it", type: "refs", kind: "person", only: (x) => !x.retired,
    hint: "nobody ticked: as the board plans it",
  },
  ...jobFields.filter((f) => !["robot", "template", "name"].includes(f.name)),
  whyUnlocked,
];

/** Where there is no kind of job to choose, a way to do it that is still to be named. @param {Captain} captain */
function firstFix({ board }) {
  if (board.all("template").some((m) => !m.retired)) return [];
  const bench = board.all("station").some((w) => !w.retired && w.kind === "bench");
  return [{ ...freshFix(), station: bench ? "bench" : "none" }];
}

/** @param {Captain} captain @param {Job} job */
function jobView(captain, job) {
  const { board, clock } = { board: captain.board, clock: captain.ctx.clock };
  const plan = board.get(`plan/${job.id}`);
  return kept(job.id, [job, plan, captain.openRow === job.id, board.all("person"), board.all("damage"), clock.offsetMin], () => {
    const fix = job.fixes[job.chosen ?? 0];
    const who = listNames((job.assigned ?? []).map((id) => nameOf(board, id)));
    const seen = sawOf(captain.ctx, `job/${job.id}`);
    return row(captain, {
      id: job.id,
      name: `${job.number} ${job.name}`,
      says: [who || "nobody yet", " · ", job.state === "held" && job.heldFor ? `on hold: ${heldWords(job)}` : jobWords[job.state]],
      side: [flagView(plan?.flag === "no-call" ? "none" : plan?.flag), ` ${minutes(fix.likelySec)} / ${minutes(fix.badSec)} min`],
      verb: verbOf(captain, job, seen),
      rest: () => jobActs(captain, job, seen),
    });
  });
}

/** The one act that a job's row has in sight. @param {Captain} captain @param {Job} job @param {Record<string, number>} seen */
function verbOf(captain, job, seen) {
  if (!toDo.includes(job.state)) return reopen(captain, job, seen);
  return job.state === "running" ? hold(captain, job, seen) : who(captain, job, seen);
}

/** @param {Captain} captain @param {Job} job @param {Record<string, number>} seen */
function jobActs(captain, job, seen) {
  const plan = captain.board.get(`plan/${job.id}`);
  const live = toDo.includes(job.state);
  return [
    job.heldText || job.reason ? p({ class: "fact" }, [job.heldText, job.reason].filter(Boolean).join(" · ")) : null,
    job.acceptor ? p({ class: "fact" }, `${nameOf(captain.board, job.acceptor)} answers for it`) : null,
    plan?.cause?.text ? p({ class: "fact" }, plan.cause.text) : null,
    plan?.endAt && live
      ? p({ class: "fact" }, `likely done ${captain.ctx.clock.hhmm(plan.endAt)}, bad case ${captain.ctx.clock.hhmm(plan.badAt)}`)
      : null,
    plan?.owes?.length ? ul({ class: "owes" }, plan.owes.map((owed) => li({ key: owed.says }, owed.says))) : null,
    damagesView(captain, job),
    live ? [fixChoice(captain, job, seen), triageChoice(captain, job, seen)] : null,
    div({ class: "card-acts" }, about(`${job.number} ${job.name}`, live ? liveActs(captain, job, seen) : endedActs(captain, job, seen))),
  ];
}

/** @param {Captain} captain @param {Job} job */
function damagesView(captain, job) {
  const damages = (job.damages ?? []).map((id) => captain.board.get(`damage/${id}`)).filter((d) => d !== undefined);
  if (damages.length === 0) return null;
  return div({ class: "damages" }, damages.map((d) => div({ key: d.id, class: "damage" },
    p(null, `${d.part}${d.what ? `: ${d.what}` : ""} · ${d.grade}${d.stuck ? " · stuck" : ""}`),
    (d.photos ?? []).map((id) => a({ key: id, href: `/photos/${id}` },
      img({ src: `/photos/${id}/thumb`, alt: `photo of ${d.part}`, width: 120, loading: "lazy" }))))));
}

/** @param {Captain} captain @param {Job} job @param {Record<string, number>} seen */
function fixChoice(captain, job, seen) {
  if (job.fixes.length < 2) return null;
  return div({ class: "choice-row", role: "group", "aria-label": "how it is done" }, job.fixes.map((fix, i) => tap({
    key: String(i), class: (job.chosen ?? 0) === i ? "here" : "",
    words: `${fix.name} · ${minutes(fix.likelySec)} / ${minutes(fix.badSec)} min`,
    act: () => captain.acts.ask({ do: "job.fix", with: { job: job.id, chosen: i }, seen, says: `${job.number}: ${fix.name}`, undo: true }),
  })));
}

/** @param {Captain} captain @param {Job} job @param {Record<string, number>} seen */
function triageChoice(captain, job, seen) {
  return div({ class: "choice-row", role: "group", "aria-label": "importance" }, triageOrder.map((triage) => tap({
    key: triage, class: job.triage === triage ? "here" : "", words: triage,
    act: () => job.triage === "must" && triage !== "must"
      ? captain.open({
        title: `${job.number} ${job.name}: no must any more`, do: "job.change", from: {},
        also: { ...fieldsOf(changeFields, job), job: job.id, triage }, seen, says: `${job.number} is a ${triage}`, undo: true,
        warns: "Without it the robot may be signed. Who says so and why stands in the review.",
        fields: [{ name: "reason", label: "why", type: "text" }],
      })
      : captain.acts.ask({
        do: "job.change", with: { ...fieldsOf(changeFields, job), job: job.id, triage }, seen, says: `${job.number} is a ${triage}`,
        undo: true,
      }),
  })));
}

/** What job.change replaces; the patch it puts right stays with it. @type {import("./fields.js").Field[]} */
const changeFields = [...jobFields, { name: "followUpOf", label: "", type: "text" }];

/**
 * A button that opens a form about a job.
 * @param {Captain} captain
 * @param {Job} job
 * @param {Record<string, number>} seen
 * @param {string} words
 * @param {Omit<import("./forms.js").Ask, "also" | "seen" | "title"> & {title?: string}} rest
 */
const asks = (captain, job, seen, words, rest) => tap({
  key: words, words,
  act: () => captain.open({ title: `${words}: ${job.number} ${job.name}`, also: { job: job.id }, seen, undo: true, ...rest }),
});

/** @param {Captain} captain @param {Job} job @param {Record<string, number>} seen */
const who = (captain, job, seen) => asks(captain, job, seen, "who", {
  do: "job.assign", from: { people: job.assigned }, says: `${job.number} has its people`,
  title: `Who does ${job.number} ${job.name}?`,
  fields: [{ name: "people", label: "people", type: "refs", kind: "person", zero: true }],
});

/** @param {Captain} captain @param {Job} job @param {Record<string, number>} seen */
const hold = (captain, job, seen) => asks(captain, job, seen, "hold", {
  do: "job.hold", from: {}, says: `held ${job.number}`,
  fields: [
    {
      name: "why", label: "it waits for", type: "choice",
      options: [["part", "a part"], ["person", "a person"], ["station", "a station"], ["clock", "there is no time now"]],
    },
    {
      name: "minutes", label: "when a part comes", type: "whole", hint: "left empty, nobody knows",
      options: partMinutes.map((n) => [String(n), `in ${n} min`]),
    },
    { name: "text", label: "a few words", type: "text" },
  ],
});

/** @param {Captain} captain @param {Job} job @param {Record<string, number>} seen */
const reopen = (captain, job, seen) => asks(captain, job, seen, "reopen", {
  title: `Reopen ${job.number} ${job.name}`, do: "job.reopen", from: {}, says: `reopened ${job.number}`,
  fields: [{ name: "reason", label: "why", type: "text" }],
});

/** What else may be done with a job that is not over. @param {Captain} captain @param {Job} job @param {Record<string, number>} seen */
function liveActs(captain, job, seen) {
  const running = job.state === "running";
  return [
    running ? who(captain, job, seen) : null,
    running ? null : asks(captain, job, seen, "leave off", {
      do: "job.defer", from: {}, says: `left off ${job.number}`, save: "leave off",
      warns: "The fault stays in the robot. Someone on the team answers for that by name.",
      fields: [
        { name: "acceptor", label: "who answers for it", type: "ref", kind: "person", only: (x) => !x.retired && !x.minor && !x.guest },
        { name: "reason", label: "why it can be left", type: "text" },
      ],
    }),
    running ? null : asks(captain, job, seen, "drop", {
      do: "job.drop", from: {}, says: `dropped ${job.number}`, save: "drop it",
      warns: "Drop a job that is not needed after all. A fault that stays in the robot is left off instead.",
      fields: [{ name: "reason", label: "why it is not needed", type: "text" }],
    }),
    tap({ key: "change", words: "change", act: () => captain.open({
      title: `Change ${job.number} ${job.name}`, do: "job.change", from: { ...job, reason: "" },
      fields: [...jobFields, { name: "reason", label: "why, if it asks less now", type: "text" }],
      also: { job: job.id, robot: job.robot, ...(job.followUpOf ? { followUpOf: job.followUpOf } : {}) }, seen,
      says: `changed ${job.number}`, undo: true,
    }) }),
  ];
}

/** @param {Captain} captain @param {Job} job @param {Record<string, number>} seen */
function endedActs(captain, job, seen) {
  return job.state === "finished"
    ? tap({
      key: "look", words: "I looked at it again",
      act: () => captain.acts.ask({ do: "job.reinspect", with: { job: job.id }, seen, says: `looked at ${job.number} again` }),
    })
    : null;
}
