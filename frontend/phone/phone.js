// Phone: my next move, one thing with one big button; behind it what goes wrong
// with it, and more.

import { reached } from "../core/live.js";
import { ago, b, div, h1, left, p, span, tap } from "../core/tags.js";
import { agoWords } from "../core/clock.js";
import { atWork, holdWords, minutes, partMinutes } from "../core/words.js";
import { flagView, leads, patchLine, robotFacts, robotName, robots } from "../core/screen.js";
import { Phone, closeUp, handsButton, tagButton, unhandsButton, untagButton, workButton } from "./page.js";

/** @typedef {import("../core/wire.d.ts").Todo} Todo */
/** @typedef {import("../core/wire.d.ts").Job} Job */
/** @typedef {import("../core/tags.js").Node} Node */

/** Why a person may hold a job, beside waiting for a part; the board's own reason is not among them. */
const holdWhys = /** @type {const} */ (["person", "station", "clock"]);

/** @param {Phone} phone */
function nextPage(phone) {
  const { todo } = phone;
  if (!phone.me) {
    return phone.frame(
      undefined,
      "This device has no name yet",
      p({ class: "lead" }, "Join with your name to get work."),
      phone.to("#/me/more", "MORE", "main"),
    );
  }
  if (!todo || todo.act === "none") return idlePage(phone, todo);
  const job = todo.job ? phone.board.get(`job/${todo.job}`) : undefined;
  return phone.frame(
    todo.robot,
    "",
    div({ class: "next" },
      p({ class: "overline" }, "my next move"),
      h1({ class: "move" }, job && todo.title === job.name ? `${job.number} ${job.name}` : todo.title),
      todo.where || todo.why ? p({ class: "where" }, [todo.where, todo.why].filter(Boolean).join(" · ")) : null,
      toldLine(todo),
      timeView(phone, todo, job),
      job ? patchLine(phone.ctx, job) : null,
      job ? flagLine(phone, job) : null,
      div({ class: "facts" }, todo.robot ? robotFacts(phone.ctx, todo.robot) : null, recheckLine(phone, todo.robot)),
      owing(phone)),
    [
      div({ class: "row" },
        phone.to(`#/me/trouble/${todo.robot ?? ""}`, "trouble"),
        recheckButton(phone, todo.robot)
          ?? (job && ["running", "held"].includes(job.state) ? phone.to(`#/me/hold/${job.id}`, "hold") : null),
        phone.to("#/me/more", "more")),
      bigButton(phone, todo),
    ],
  );
}

/** What I finished and is not closed yet, and what nobody has read in a robot that I close up. @param {Phone} phone */
const owing = (phone) => [
  phone.board.all("job").filter((j) => j.state === "finished" && j.finishedBy === phone.me)
    .map((j) => phone.to(`#/me/job/${j.id}`, `what job ${j.number} owes`)),
  phone.board.all("pack").filter((pack) => unreadAtClosing(phone, pack))
    .map((pack) => phone.to(`#/me/read/${pack.id}`, `read ${pack.name}`)),
];

/** @param {Phone} phone @param {import("../core/wire.d.ts").Pack} pack */
const unreadAtClosing = (phone, pack) => pack.unread && !pack.retired && pack.robot
  && phone.board.get(`power/${pack.robot}`)?.state === "closing-up" && leads(phone.ctx, pack.robot);

/** Who ended my work, where another did. @param {Todo | undefined} todo */
const toldLine = (todo) => (todo?.told ? p({ class: "fact told" }, b(null, todo.told)) : null);

/** @param {Phone} phone @param {Todo | undefined} todo */
function idlePage(phone, todo) {
  return phone.frame(
    todo?.robot,
    "",
    [
      p({ class: "overline" }, "my next move"),
      h1({ class: "move" }, todo?.title || "Nothing for you right now"),
      toldLine(todo),
      p({ class: "why" }, todo?.why || "Other work and all robots are behind the button."),
      owing(phone),
    ],
    [div({ class: "row" }, phone.to("#/me/trouble", "trouble")), phone.to("#/me/more", "MORE", "main")],
  );
}

/** What is to be answered again first on a robot that I may answer for. @param {Phone} phone @param {string | undefined} robot */
const nextRecheck = (phone, robot) => (robot && !phone.nearOnly ? phone.board.get(`strip/${robot}`)?.rechecks?.[0] : undefined);

/** @param {Phone} phone @param {string | undefined} robot */
function recheckLine(phone, robot) {
  const r = nextRecheck(phone, robot);
  return r ? p({ class: "fact" }, "check again in ", b(null, left({ until: r.due })), ", or all leave it") : null;
}

/** @param {Phone} phone @param {string | undefined} robot */
function recheckButton(phone, robot) {
  const r = nextRecheck(phone, robot);
  return r ? phone.to(`#/sheet/${r.sheet}/${r.line}`, "check again") : null;
}

/** Minutes left for the job and minutes so far. @param {Phone} phone @param {Todo} todo @param {Job | undefined} job */
function timeView(phone, todo, job) {
  const soFar = job ? workedView(job) : null;
  const guess = todo.likelySec ? `likely ${minutes(todo.likelySec)} min, bad case ${minutes(todo.badSec ?? todo.likelySec)}` : "";
  if (!todo.until) return guess || soFar ? p({ class: "time" }, soFar, soFar && guess ? " · " : null, guess) : null;
  return div(
    { class: "time" },
    div({ class: "figure" }, left({ until: todo.until }), span({ class: "left-word" }, "left")),
    p(null, "by ", b(null, phone.ctx.clock.hhmm(todo.until)), soFar ? [" · ", soFar] : guess ? ` · ${guess}` : null),
  );
}

/** The job's own flag with the one cause that matters most. @param {Phone} phone @param {Job} job */
function flagLine(phone, job) {
  const plan = phone.board.get(`plan/${job.id}`);
  if (!plan || plan.flag === "none" || plan.flag === "no-call") return null;
  const said = phone.board.get(`call/${job.robot}`)?.flag === plan.flag; // by the head
  return p({ class: "flag-line" }, said ? null : flagView(plan.flag), span(null, plan.cause?.text ?? ""));
}

/** How long anyone was on a job until now, by the clock; it counts on while the job runs. @param {Job} job */
function workedView(job) {
  const spans = (job.stints ?? [])
    .map((s) => ({ from: Date.parse(s.from), to: s.to ? Date.parse(s.to) : Infinity }))
    .sort((x, y) => x.from - y.from);
  let ended = 0;
  let last = { from: 0, to: 0 };
  for (const s of spans) {
    if (s.from > last.to) {
      ended += last.to - last.from;
      last = { ...s };
    }
    last.to = Math.max(last.to, s.to);
  }
  if (last.to === Infinity) return [ago({ since: new Date(last.from - ended).toISOString() }), " so far"];
  ended += last.to - last.from;
  return ended >= 60_000 ? `${agoWords(ended)} so far` : null;
}

/** The one big button. @param {Phone} phone @param {Todo} todo */
function bigButton(phone, todo) {
  const { robot = "", job = "", sheet } = todo;
  switch (todo.act) {
    case "tag":
      return job && phone.board.all("tag").some((t) => t.robot === robot && t.person === phone.me)
        ? workButton(phone, job)
        : tagButton(phone, robot, "main");
    case "hands": return handsButton(phone, robot, "main");
    case "tag-off": return offButton(phone, robot);
    case "close-up": return tap({ class: "main", words: "BEGIN CLOSING UP", act: () => closeUp(phone, robot) });
    case "start":
    case "resume":
    case "join":
    case "finish": return workButton(phone, job);
    case "sheet":
    case "first-in": return phone.to(`#/sheet/${sheet}`, "OPEN THE SHEET", "main");
    case "recheck": return goTo(phone, todo, `#/sheet/${sheet}/${todo.line}`, "CHECK IT AGAIN");
    case "decide": return goTo(phone, todo, `#/me/standing/${todo.damage}`, "DECIDE");
    case "read": return goTo(phone, todo, `#/me/read/${todo.pack}`, "READ IT");
    case "move": return goTo(phone, todo, `#/me/move/${todo.pack}`, "SAY WHERE IT IS");
    case "charge": return goTo(phone, todo, `#/me/charge/${todo.pack}`, "PUT IT ON");
    case "attend": return goTo(phone, todo, `#/me/pack/${todo.pack}`, "LOOK AT IT");
    case "off": return goTo(phone, todo, `#/me/pack/${todo.pack}`, "TAKE IT OFF");
    case "fetch": return todo.taken
      ? phone.to(`#/me/job/${job}`, "IT IS HERE", "main")
      : tap({ key: "fetch", class: "main", words: "I’LL FETCH IT", act: () => fetchIt(phone, todo) });
    case "carry": return phone.to(`#/me/place/${robot}`, "SAY WHERE IT IS", "main");
  }
  return robot ? phone.to(`#/robot/${robot}`, `SHOW ${robotName(phone.ctx, robot)}`, "main") : phone.to("#/me/more", "OTHER WORK", "main");
}

/**
 * Goes where a piece of work is done, and says that I have it: nobody else is sent to it.
 * @param {Phone} phone @param {Todo} todo @param {string} to @param {string} words
 */
const goTo = (phone, todo, to, words) => tap({
  key: to, class: "main", words,
  act: () => {
    if (todo.work && !todo.taken) phone.ctx.live.send("work.take", { work: todo.work });
    phone.ctx.go(to);
  },
});

/** Says that I have it, as the page does not change. @param {Phone} phone @param {Todo} todo */
const fetchIt = (phone, { work = "" }) =>
  phone.acts.ask({ do: "work.take", with: { work }, says: "you fetch it", asked: "say that you fetch it" });

/** My tag off this robot, or my hands away from it. @param {Phone} phone @param {string} robot */
function offButton(phone, robot) {
  const tag = phone.board.all("tag").find((t) => t.robot === robot && t.person === phone.me);
  const near = phone.board.all("hands").find((n) => n.robot === robot && n.person === phone.me);
  if (tag) return untagButton(phone, tag, "main");
  return near ? unhandsButton(phone, near, "main") : phone.to("#/me/more", "OTHER WORK", "main");
}

/** @param {Phone} phone */
function troublePage(phone) {
  const robot = phone.about;
  if (!robot) {
    return phone.frame(
      undefined,
      "Trouble with which robot?",
      div({ class: "choices" }, robots(phone.ctx).map((r) => phone.to(`#/me/trouble/${r.id}`, robotName(phone.ctx, r.id), "choice"))),
      phone.to("#/me", "BACK", "main"),
    );
  }
  const job = phone.todo?.robot === robot && phone.todo.job ? phone.board.get(`job/${phone.todo.job}`) : undefined;
  return phone.frame(
    robot,
    "What is the trouble?",
    div({ class: "stack" },
      phone.to(`#/damage/${robot}`, "something is damaged"),
      phone.board.all("tag").some((t) => t.robot === robot && t.person === phone.me)
        ? phone.to(`#/me/handover/${robot}`, "I hand over to someone")
        : null,
      leaveButton(phone, job),
      job?.state === "running" ? holdButtons(phone, job) : null,
      phone.to(`#/me/doubt/${robot}`, "its power is not what the board says")),
    phone.to("#/me", "BACK", "main"),
  );
}

/** My own end of work on a job that others go on with. @param {Phone} phone @param {Job | undefined} job */
function leaveButton(phone, job) {
  if (!job || !atWork(job).includes(phone.me) || atWork(job).length < 2) return null;
  const act = async () => {
    const answer = await phone.acts.ask({ do: "job.leave", with: { job: job.id }, says: `left ${job.number}`, undo: true });
    if (!answer.refusal) leavePage(phone);
  };
  return tap({ key: "leave", words: `I leave ${job.number}, the others go on`, act });
}

/** Waiting for a part asks when it comes. @param {Phone} phone @param {Job} job */
const holdButtons = (phone, job) => [
  p({ class: "lead", key: "part" }, `Hold ${job.number}: it ${holdWords.part}. When does it come?`),
  div({ class: "row", key: "when" },
    [...partMinutes, 0].map((minutes) => holdButton(phone, job, { why: "part", minutes }, minutes ? `${minutes} min` : "nobody knows"))),
  holdWhys.map((why) => holdButton(phone, job, { why }, `hold ${job.number}: ${holdWords[why]}`)),
];

/**
 * @param {Phone} phone @param {Job} job
 * @param {{why: Exclude<import("../core/wire.d.ts").HoldWhy, "lockout">, minutes?: number}} said @param {string} words
 */
function holdButton(phone, job, said, words) {
  const act = async () => {
    const text = (phone.typed.hold ?? "").trim();
    const also = { ...(said.minutes ? { minutes: said.minutes } : {}), ...(text ? { text } : {}) };
    const answer = await phone.acts.ask({
      do: "job.hold", with: { job: job.id, why: said.why, ...also }, says: `held ${job.number}: ${holdWords[said.why]}`, undo: true,
    });
    if (!answer.refusal) leavePage(phone);
  };
  return tap({ key: said.why + (said.minutes ?? ""), words, act });
}

/** Goes back to my next move and keeps the undo in sight, if its person is still here. @param {Phone} phone */
function leavePage(phone) {
  if (phone.gone) return;
  phone.page = "";
  phone.typed = {};
  history.replaceState(null, "", "#/me");
  phone.screen.redraw();
}

/** @param {Phone} phone */
function holdPage(phone) {
  const job = phone.board.get(`job/${phone.about}`);
  if (!job) return nextPage(phone);
  return phone.frame(
    job.robot,
    `Hold ${job.number} ${job.name}: why?`,
    div({ class: "stack" },
      phone.field("hold", "a few words, if you like"),
      leaveButton(phone, job),
      holdButtons(phone, job)),
    phone.to("#/me", "BACK", "main"),
  );
}

/** @param {Phone} phone */
function doubtPage(phone) {
  const robot = phone.about;
  const why = (phone.typed.doubt ?? "").trim();
  const name = robotName(phone.ctx, robot);
  const act = async () => {
    const answer = await phone.acts.ask({
      do: "robot.doubt", with: { robot, why }, says: `${name} is unknown`, asked: `set ${name} unknown`,
    });
    if (!answer.refusal) leavePage(phone);
  };
  return phone.frame(
    robot,
    `${name} is not as the board says`,
    [
      p({ class: "lead" }, "The board then treats it as live. Everyone keeps hands out until it is made safe again. Shout, too."),
      phone.field("doubt", "what you saw"),
    ],
    [
      div({ class: "row" }, phone.to("#/me", "back")),
      tap({ class: "main", words: `SET ${name.toUpperCase()} UNKNOWN`, off: !why, act }),
    ],
  );
}

/** Shown while a page's module is fetched. @param {Phone} phone */
const fetchPage = (phone) => phone.frame(
  undefined,
  "One moment",
  p({ class: "lead" }, "This page comes as soon as the board can be reached."),
  phone.to("#/me", "MY NEXT MOVE", "main"),
);

/** @type {Record<string, (phone: Phone) => Node>} */
const pages = { trouble: troublePage, hold: holdPage, doubt: doubtPage };

const more = async () => Object.assign(pages, (await import("./more.js")).pages);
const absent = async () => Object.assign(pages, (await import("./absent.js")).pages);
const safety = async () => Object.assign(pages, (await import("./safety.js")).pages);
const packs = async () => Object.assign(pages, (await import("../pack/pack.js")).pages);
const hands = async () => Object.assign(pages, (await import("./hands.js")).pages);
const standing = async () => Object.assign(pages, (await import("./standing.js")).pages);
const owes = async () => Object.assign(pages, (await import("./owes.js")).pages);
const glossary = async () => Object.assign(pages, (await import("./glossary.js")).pages);
const power = async () => Object.assign(pages, (await import("./power.js")).pages);

/** Pages that are fetched when they are first asked for. @type {Record<string, () => Promise<unknown>>} */
const later = {
  more, robot: more, job: more, place: more, order: more, notes: more, words: glossary,
  handover: hands, "pin-tag-on": hands, "pin-tag": hands, "pin-hands": hands,
  test: power, testing: power, less: power, standing, "standing-pin": standing, "look-again": owes,
  notice: absent, "absent-tag": absent, "absent-hands": absent,
  alarms: safety, shelve: safety, emergency: safety, over: safety, stop: safety,
  packs, pack: packs, read: packs, move: packs, charge: packs,
};

/** The page this phone is on; one whose module is not here is fetched. @param {Phone} phone */
function view(phone) {
  const name = phone.page === "" && phone.notice ? "notice" : phone.page;
  if (pages[name]) return pages[name](phone);
  if (!(name in later)) return nextPage(phone);
  fetchLater(phone, name);
  return fetchPage(phone);
}

/** Fetches the module of a page, and draws again. @param {Phone} phone @param {string} name */
async function fetchLater(phone, name) {
  if (phone.fetching === name) return;
  phone.fetching = name;
  const ok = await reached().then(later[name]).then(() => true, () => false);
  phone.fetching = "";
  if (ok) phone.screen.redraw();
}

/** Fetches what may be asked for when the network is gone. */
export const ahead = () => Promise.all([more(), absent(), safety(), packs(), hands(), power(), standing(), owes(), glossary()]);

/** Shows my next move, or a page behind it; "robot" is one of them. @type {import("../core/ctx.d.ts").Mount} */
export function mount(root, ctx, name = "me", ...path) {
  const phone = new Phone(root, ctx, name === "robot" ? ["robot", ...path] : path, view);
  return () => {
    phone.gone = true;
    phone.acts.stop();
    phone.screen.end();
  };
}
