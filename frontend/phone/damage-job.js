// A job to put a damage right: of a kind the team has, or in one's own words.

import { div, h2, p, tap } from "../core/tags.js";
import { minutes } from "../core/words.js";
import { byName } from "../core/screen.js";

/** @typedef {import("./damage.js").Report} Report */
/** @typedef {import("../core/wire.d.ts").JobFields} JobFields */
/** @typedef {import("../core/wire.d.ts").Fix} Fix */
/** @typedef {import("../core/wire.d.ts").System} System */

/** @type {[System, string][]} */
const systems = [
  ["weapon", "weapon"], ["drive", "drive"], ["structure", "structure"], ["radio", "radio, wiring"], ["lock", "weapon lock"],
  ["link", "link"], ["pack", "pack"], ["light", "power light"], ["mass", "mass"],
];
/** @type {[Fix["way"], string][]} */
const ways = [["swap", "swap"], ["mend", "mend"], ["patch", "patch"], ["check", "check"]];
/** @type {["must" | "should" | "could", string][]} */
const triages = [["must", "must"], ["should", "should"], ["could", "could"]];
/** @type {[string, string][]} */
const minuteChoices = ["5", "10", "15", "20", "30", "45", "60", "90"].map((min) => [min, min]);
/** How much of a damaged thing works after a patch, in %. @type {[string, string][]} */
const worksChoices = ["25", "50", "75", "100"].map((pct) => [pct, pct]);

/** @param {Report} on */
export function jobPage(on) {
  const size = on.board.get(`robot/${on.robot}`)?.size;
  const templates = byName(on.board.all("template").filter((m) => !m.retired && m.size === size));
  return on.frame("Which job?",
    [
      p({ class: "lead" }, `To put right: ${on.typed.part}`),
      div({ class: "stack" }, templates.map((m) => tap({
        key: m.id,
        words: `${m.name} · ${minutes(m.fixes[0].likelySec)} to ${minutes(m.fixes[0].badSec)} min`,
        act: () => addJob(on, { template: m.id, ...(on.typed.grade === "GX" ? { triage: "must" } : {}) }, m.name),
      }))),
    ],
    [
      div({ class: "row" },
        tap({ words: "back", act: () => on.show("photo") }),
        tap({ words: "no job", act: () => on.ctx.go("#/me") })),
      tap({
        class: "main goes", words: "ANOTHER JOB, IN MY WORDS",
        act: () => {
          on.typed.name ??= `Mend ${on.typed.part}`;
          on.typed.triage ??= on.typed.grade === "GX" ? "must" : "should";
          on.show("free");
        },
      }),
    ]);
}

/** @param {Report} on */
export function freePage(on) {
  const { name = "", way, likely = "", bad = "", triage, limits = "" } = on.typed;
  const ready = name.trim() && way && Number(likely) > 0 && Number(bad) > 0 && triage && (way !== "patch" || limits.trim());
  return on.frame("A job in my words",
    [
      on.field("name", "job"),
      h2(null, "how"),
      on.choice("way", ways, "choices"),
      way === "patch"
        ? [
          on.field("limits", "what limits the patch leaves"),
          h2(null, "how much of it works then, in %, if you know"),
          on.choice("works", worksChoices, "choices four"),
        ]
        : null,
      h2(null, "its importance"),
      on.choice("triage", triages, "choices three"),
      h2(null, "likely, in minutes"),
      on.choice("likely", minuteChoices, "choices four"),
      h2(null, "bad case, in minutes"),
      on.choice("bad", minuteChoices.filter(([min]) => Number(min) >= Number(likely || 0)), "choices four"),
      h2(null, "what it touches"),
      div({ class: "choices" }, systems.map(([value, words]) => on.toggle(value, words, on.touches.includes(value), () => {
        on.touches = on.touches.includes(value) ? on.touches.filter((x) => x !== value) : [...on.touches, value];
        on.screen.redraw();
      }))),
      h2(null, "where the hands are"),
      on.choice("where", [["in", "in the robot, locked out"], ["off", "off the robot"]], "stack"),
    ],
    [
      ready && on.typed.where
        ? null
        : p({ class: "hint" },
          "Still open: " + [
            !way && "how",
            !triage && "its importance",
            !(Number(likely) > 0) && "likely minutes",
            !(Number(bad) > 0) && "bad case",
            !on.typed.where && "where the hands are",
            way === "patch" && !limits.trim() && "limits of the patch",
          ].filter(Boolean).join(", ")),
      div({ class: "row" }, tap({ words: "back", act: () => on.show("job") })),
      tap({ class: "main", words: "ADD THE JOB", off: !ready || !on.typed.where, act: () => addFree(on) }),
    ]);
}

/** @param {Report} on */
function addFree(on) {
  const { name = "", way, likely, bad, triage, where, limits = "", works } = on.typed;
  /** @type {Fix} */
  const fix = {
    name: name.trim(), way: /** @type {Fix["way"]} */ (way), likelySec: Number(likely) * 60, badSec: Number(bad) * 60,
    hands: ["any"], station: "bench", where: /** @type {Fix["where"]} */ (where), touches: on.touches,
    ...(where === "in" ? { lockout: true } : {}),
    ...(way === "patch" ? { limits: limits.trim(), ...(works ? { worksPct: Number(works) } : {}) } : {}),
  };
  return addJob(on, { name: name.trim(), triage: /** @type {"must"} */ (triage), fixes: [fix] }, name.trim());
}

/**
 * Adds a job for the damage; what a template says need not be given.
 * @param {Report} on
 * @param {Partial<JobFields>} fields
 * @param {string} name
 */
async function addJob(on, fields, name) {
  const job = /** @type {JobFields} */ ({ robot: on.robot, damages: [on.damage], ...fields });
  const answer = await on.acts.ask({ do: "job.add", with: job, says: `added: ${name}`, undo: true });
  if (!answer.refusal) on.ctx.go("#/me");
}
