// What works now of a robot, for whoever drives it; and what became of a damage
// once hands were in: stuck, destroyed, how much of it works as it is.

import { b, div, h2, li, p, span, tap, ul } from "../core/tags.js";
import { functionWords } from "../core/words.js";
import { openSheets, robotName } from "../core/screen.js";

/** @typedef {import("./page.js").Phone} Phone */
/** @typedef {import("../core/wire.d.ts").Robot} Robot */
/** @typedef {import("../core/wire.d.ts").Damage} Damage */

/** What works, the setup that is on, and what it weighs. @param {Phone} phone @param {Robot} robot */
export function worksView(phone, robot) {
  const works = phone.board.get(`works/${robot.id}`);
  const setups = phone.board.get(`setups/${robot.id}`);
  if (!works && !setups?.on) return null;
  const on = setups?.list.find((u) => u.setup === setups.on);
  const whole = works?.functions.filter((f) => f.word === "full") ?? [];
  const rest = works?.functions.filter((f) => f.word !== "full") ?? [];
  return [
    h2(null, "what works now"),
    on
      ? p({ class: "fact" },
        "setup: ",
        b(null, on.name),
        on.against.length ? ` · against ${on.against.join(", ")}` : "",
        setups?.weighed?.stale ? ` · WEIGH AGAIN: ${setups.weighed.stale}` : "")
      : null,
    rest.length ? ul({ class: "works" }, rest.map((f) => li({ key: f.name, class: `work ${f.word}` },
      span(null, b(null, f.name), `: ${functionWords(f)}`), f.why.map((why) => p({ key: why, class: "fact" }, why))))) : null,
    whole.length ? p({ class: "fact" }, `in full: ${whole.map((f) => f.name).join(", ")}`) : null,
    works?.other.length
      ? [
        p({ class: "fact" }, "damage left that is not on the part map:"),
        ul({ class: "works" }, works.other.map((text) => li({ key: text, class: "fact" }, text))),
      ]
      : null,
  ];
}

/** Buttons that begin the lists of the day's and the event's end, where they are not open. @param {Phone} phone @param {Robot} robot */
export function endLists(phone, robot) {
  const open = openSheets(phone.ctx, robot.id);
  const name = robotName(phone.ctx, robot.id);
  return /** @type {const} */ ([["overnight", "overnight list"], ["pack-up", "pack-up list"]])
    .filter(([list]) => !open.some((h) => h.list === list))
    .map(([list, words]) => tap({
      key: list, words, act: () => phone.acts.ask({ do: "robot.list", with: { robot: robot.id, list }, says: `${words}: ${name}` }),
    }));
}

/** How much of a damaged thing works, in the steps that people can tell apart. */
const pctChoices = [0, 25, 50, 75, 100];

/** What became of the damages of a job. @param {Phone} phone */
export function outcomePage(phone) {
  const job = phone.board.get(`job/${phone.about}`);
  const damages = (job?.damages ?? []).map((id) => phone.board.get(`damage/${id}`)).filter((d) => d !== undefined && !d.dropped);
  const back = phone.to(job ? `#/me/job/${job.id}` : "#/me", "BACK", "main");
  if (!job) return phone.frame(undefined, "That job is gone", null, back);
  return phone.frame(
    job.robot,
    `What came of it? ${robotName(phone.ctx, job.robot)}`,
    damages.map((d) => outcomeView(phone, /** @type {Damage} */ (d))),
    back,
  );
}

/** @param {Phone} phone @param {Damage} d */
function outcomeView(phone, d) {
  const says = `${d.number} ${d.part}`;
  const is = { stuck: Boolean(d.stuck), destroyed: Boolean(d.destroyed), worksPct: d.worksPct };
  const ask = (/** @type {Partial<typeof is>} */ change) =>
    phone.acts.ask({ do: "damage.outcome", with: { damage: d.id, ...is, ...change }, seen: { [`damage/${d.id}`]: d.v }, says, undo: true });
  /** @param {string} key @param {string} words @param {boolean} on @param {Partial<typeof is>} change */
  const toggle = (key, words, on, change) =>
    tap({ key, class: on ? "choice chosen" : "choice", words: on ? `✓ ${words}` : words, act: () => ask(change) });
  return [
    h2({ key: d.id }, says),
    div({ key: `${d.id} what`, class: "stack" },
      toggle("stuck", "stuck: will not come apart", is.stuck, { stuck: !is.stuck }),
      toggle("destroyed", "destroyed when it was taken out", is.destroyed, { destroyed: !is.destroyed })),
    p({ key: `${d.id} how`, class: "fact" }, "how many % of it work as it is now?"),
    div({ key: `${d.id} pct`, class: "choices four" },
      pctChoices.map((n) => toggle(String(n), String(n), is.worksPct === n, { worksPct: is.worksPct === n ? undefined : n }))),
  ];
}
