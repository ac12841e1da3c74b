// Sheet: one safety line at a time. Every answer is one person's, to one line.

import { Acts, framed } from "../core/acts.js";
import { ago, b, div, h1, p, span, tap } from "../core/tags.js";
import { listWords, nameOf } from "../core/words.js";
import { answerWords, isOpen, lastAnswer, onPaper, unitWords } from "./lines.js";
import { answersOf } from "./answers.js";
import { earlierPage, firstInPage, overPage, personPage, pinPage } from "./pages.js";
import { Paper, paperWords } from "./paper.js";
import { openSheets, relaxedLine, robotName, sawOf, screen, stopLine } from "../core/screen.js";

/** @typedef {import("../core/ctx.d.ts").Ctx} Ctx */
/** @typedef {import("../core/wire.d.ts").Line} Line */
/** @typedef {import("../core/wire.d.ts").Sheet} Sheet */
/** @typedef {import("../core/wire.d.ts").Said} Said */

/** @typedef {import("./choices.js").More} More */

export class Walk {
  number = "";
  /** What the board asked about the figure that was typed, "" for nothing. */
  asked = "";
  /** @type {"line" | "earlier" | "person" | "pin" | "paper"} */
  page = "line";
  /** @type {string | null} a line that is answered again */
  again = null;
  /** @type {{person: string, pin: string} | null} someone else who answers on this device, for one part */
  other = null;
  /** @type {{person: string, pin: string, first?: boolean}} */
  proving = { person: "", pin: "" };
  /** @type {string} */
  shown = "";
  part = "";
  /** @type {HTMLElement | null} */
  question = null;

  /** Another screen has taken its place. */
  gone = false;

  /** @type {ReturnType<typeof setInterval> | undefined} */
  resting;

  /** @param {HTMLElement} root @param {Ctx} ctx @param {string} id @param {string} line one that is answered again, or "" */
  constructor(root, ctx, id, line) {
    this.root = root;
    this.ctx = ctx;
    this.id = id;
    this.again = line || null;
    this.screen = screen(root, ctx, () => this.view());
    this.acts = new Acts(ctx, this.screen.redraw);
    this.paper = new Paper(this, (line) => { this.again = line; this.shown = ""; this.show("line"); }, () => this.leavePaper());
    this.screen.redraw();
  }

  /** @param {"line" | "earlier" | "person" | "pin" | "paper"} page */
  show(page) {
    this.page = page;
    this.screen.redraw();
  }

  leavePaper() {
    this.paper.clear();
    this.again = null;
    this.show("line");
  }

  paperButton() {
    return this.paper.at
      ? tap({ key: "paper", words: "not from paper", act: () => this.leavePaper() })
      : tap({ key: "paper", words: "it was answered on paper", act: () => { this.paper.clear(); this.show("paper"); } });
  }

  /** @returns {Sheet | undefined} */
  get sheet() {
    return this.ctx.board.get(`sheet/${this.id}`);
  }

  get me() {
    return this.other?.person ?? this.ctx.live.me?.person;
  }

  view() {
    const { sheet } = this;
    if (!sheet) {
      return framed(this.acts, {
        cls: "sheet", key: "none", middle: h1({ class: "lead" }, "This sheet is not on the board."), foot: this.homeView(),
      });
    }
    if (this.page === "earlier") return earlierPage(this, sheet);
    if (this.page === "person") return personPage(this, sheet);
    if (this.page === "pin") return pinPage(this, sheet);
    if (this.page === "paper") return this.paper.view(sheet);
    const line = sheet.lines.find((l) => (this.again ? l.id === this.again : isOpen(sheet, l)));
    if (!line || (sheet.state === "unanswered" && !this.paper.at)) return overPage(this, sheet);
    this.follow(line);
    return this.goesFirst(sheet) && !this.paper.at ? firstInPage(this, sheet, line) : this.linePage(sheet, line);
  }

  /** Forgets what was typed and who stood in when another line comes up. @param {Line} line */
  follow(line) {
    if (this.shown === line.id) return;
    const had = this.shown !== "" && this.root.contains(document.activeElement);
    this.shown = line.id;
    this.number = "";
    this.asked = "";
    if (this.part !== line.part) this.other = null;
    this.part = line.part;
    if (had) queueMicrotask(() => this.question?.focus({ preventScroll: true }));
  }

  /** What is first in is answered by the one whose tag is on. @param {Sheet} sheet */
  goesFirst(sheet) {
    const { me } = this;
    return sheet.list === "first-in"
      && sheet.state === "open"
      && !this.nearOnly
      && !this.ctx.board.all("tag").some((t) => t.robot === sheet.robot && t.person === me);
  }

  /** Minors and guests see the sheets and answer no line. */
  get nearOnly() {
    const person = this.ctx.board.get(`person/${this.me ?? ""}`);
    return !person || Boolean(person.minor || person.guest);
  }

  /** @param {string} robot */
  async closeUp(robot) {
    const answer = await this.acts.ask({ do: "robot.close-up", with: { robot }, says: `closing up ${robotName(this.ctx, robot)}` });
    if (!answer.refusal) this.goOn(robot);
  }

  /** On to the robot's next sheet, or to what its person does next. @param {string} robot */
  goOn(robot) {
    if (this.gone) return;
    const next = openSheets(this.ctx, robot).find((h) => h.id !== this.id && h.list !== "load-in");
    const others = next?.list === "first-in" && this.ctx.board.get(`robot/${robot}`)?.lead !== this.ctx.live.me?.person;
    this.ctx.go(next && !others ? `#/sheet/${next.id}` : "#/me");
  }

  /**
   * @param {Sheet} sheet
   * @param {string} key
   * @param {import("../core/tags.js").Children} middle
   * @param {import("../core/tags.js").Children} foot
   */
  frame(sheet, key, middle, foot) {
    return framed(this.acts, { cls: "sheet", key: `${sheet.id} ${key}`, robot: sheet.robot, middle, foot });
  }

  /** @param {Sheet} sheet @param {Line} line */
  linePage(sheet, line) {
    const { answers, foot } = answersOf(this, sheet, line);
    return this.frame(sheet, `line ${line.id}`, [
      stopLine(this.ctx, sheet.robot),
      this.titleView(sheet, `line ${sheet.lines.indexOf(line) + 1} of ${sheet.lines.length}`),
      div({ class: line.kind === "number" ? "question figures" : "question" },
        h1({ tabIndex: -1, ref: (el) => { this.question = /** @type {HTMLElement | null} */ (el); } }, line.ask),
        this.asked ? p({ class: "not-yet", role: "status" }, this.asked) : null,
        line.touch && !this.asked
          ? p({ class: "touch" },
            "touch: ",
            b(null, line.touch),
            line.kind === "number" ? ` · ${unitWords(line)}` : null,
            this.warnsView(sheet, line))
          : null,
        line.kind === "sign" ? this.damageView(sheet.robot) : null,
        this.lastNoView(sheet, line)),
      ["number", "look"].includes(line.kind) ? [answers, this.doneView(sheet, line)] : [this.doneView(sheet, line), answers],
      relaxedLine(this.ctx, sheet.robot),
    ], foot);
  }

  /** Which list this is, and where in it. @param {Sheet} sheet @param {string} where @param {boolean} [heads] it is the page's heading */
  titleView(sheet, where, heads = false) {
    return div({ class: "sheet-title" }, span(null, listWords[sheet.list]), heads ? h1(null, where) : b(null, where));
  }

  /** @param {Sheet} sheet @param {Line} line */
  lastNoView(sheet, line) {
    const a = lastAnswer(sheet, line);
    const paper = onPaper(sheet, line);
    if (this.paper.at) {
      return p({ class: "stands-in" }, `From the paper, answered at ${this.paper.figures.slice(0, 2)}:${this.paper.figures.slice(2)}`);
    }
    if (paper && (!a || paper === a) && paper.said !== "no") return paperWords(this.ctx, paper, answerWords(this.ctx, line, paper));
    if (!a) return null;
    const who = nameOf(this.ctx.board, a.by);
    if (a.said !== "no") return p({ class: "hint" }, `${who} answered: ${answerWords(this.ctx, line, a)}`);
    return p({ class: "not-yet" },
      `${who} answered “${line.not ?? "not"}” `,
      ago({ since: a.at }),
      " ago. Put it right, or call the lead; then answer.");
  }

  /** The damage that stands on the robot, for whoever signs it. @param {string} robot */
  damageView(robot) {
    const list = this.ctx.board.get(`strip/${robot}`)?.damage ?? [];
    return list.length
      ? [
        p({ class: "touch" }, b(null, "damage on it, each looked at by itself:")),
        list.map((d) => d.asks
          ? tap({ key: d.damage, words: d.says, act: () => this.ctx.go(`#/me/standing/${d.damage}`) })
          : p({ key: d.damage, class: "hint" }, d.says)),
      ]
      : null;
  }

  /** That the officials may refuse a setup: the captain's setups say why. @param {Sheet} sheet @param {Line} line */
  warnsView(sheet, line) {
    const warns = line.unit === "g" ? this.ctx.board.get(`setups/${sheet.robot}`)?.warns ?? [] : [];
    return warns.length ? b(null, ` · ${warns.length} to see under setups`) : null;
  }

  /** Who answered the lines before, oldest first; hidden from whoever looks a second time. @param {Sheet} sheet @param {Line} line */
  doneView(sheet, line) {
    const secondLook = line.kind === "sign" || (line.part === "verify" && this.ctx.board.get(`robot/${sheet.robot}`)?.secondVerifier);
    const answered = sheet.lines.filter((l) => l !== line && !isOpen(sheet, l));
    const last = [...(sheet.answers ?? [])].pop();
    return div(
      { class: "so-far" },
      secondLook
        ? p(null, "Look for yourself: the earlier answers are shown once you have answered.")
        : last && answered.length
          ? p(null, `last answer: ${nameOf(this.ctx.board, last.by)}, `, ago({ since: last.at }), " ago")
          : p(null, "nothing answered yet"),
      this.other ? p({ class: "stands-in" }, `${nameOf(this.ctx.board, this.other.person)} answers on this phone`) : null,
      line.kind === "number" ? null : div({ class: "row" },
        secondLook || answered.length === 0
          ? tap({ key: "home", words: "my next move", act: () => this.ctx.go("#/me") })
          : tap({ key: "earlier", words: "earlier answers", act: () => this.show("earlier") }),
        this.otherButton("someone else, or paper")),
    );
  }

  /** Lets someone else answer here, or ends that. @param {string} words */
  otherButton(words) {
    const { other } = this;
    return other
      ? tap({
        key: "other", words: `not ${nameOf(this.ctx.board, other.person)} any more`,
        act: () => { this.other = null; this.screen.redraw(); },
      })
      : tap({ key: "other", words, act: () => this.show("person") });
  }

  /**
   * @param {Sheet} sheet
   * @param {Line} line
   * @param {Said} said
   * @param {More} [more]
   */
  async answer(sheet, line, said, more = {}) {
    const fromPaper = this.paper.fields;
    const guarded = !fromPaper.paper && (line.kind === "sign" || line.part === "verify");
    const { other } = this;
    const answer = await this.acts.ask({
      do: "sheet.answer",
      with: { sheet: sheet.id, line: line.id, said, ...more, ...fromPaper, ...(other ? { person: other.person } : {}) },
      seen: guarded ? sawOf(this.ctx, `power/${sheet.robot}`, `sheet/${sheet.id}`) : undefined,
      pins: other ? [other] : undefined,
      says: answerWords(this.ctx, line, { line: line.id, said, ...more, by: "", at: "" }),
    });
    if (answer.refusal?.code === "need-pin" || answer.refusal?.code === "forbidden") this.other = null;
    if (answer.refusal?.field === "sure") {
      this.asked = answer.refusal.sentence;
      this.acts.went.refused = null;
    }
    if (!answer.refusal) {
      const { again } = this;
      this.again = null;
      if (fromPaper.paper) {
        this.paper.clear();
        this.page = "paper";
      } else if (said !== "no") this.wentOn(sheet, line, again !== null);
    }
    this.screen.redraw();
  }

  /**
   * After an answer: the next line, the next sheet, or what its person does next,
   * where the rest is another's.
   * @param {Sheet} was
   * @param {Line} line
   * @param {boolean} again
   */
  wentOn(was, line, again) {
    const { sheet } = this;
    if (this.gone || !sheet || this.page !== "line") return;
    if (sheet.state !== "open") {
      if (again || was.state !== "open") this.ctx.go("#/me");
      else this.goOn(sheet.robot);
      return;
    }
    const next = sheet.lines.find((l) => isOpen(sheet, l));
    if (next && next.part !== line.part && this.anothers(sheet, next)) this.ctx.go("#/me");
  }

  /** A part that is meant for another pair of eyes. @param {Sheet} sheet @param {Line} line */
  anothers(sheet, line) {
    return line.kind === "sign" || (line.part === "verify" && Boolean(this.ctx.board.get(`robot/${sheet.robot}`)?.secondVerifier));
  }

  homeView() {
    return tap({ class: "main goes", words: "MY NEXT MOVE", act: () => this.ctx.go("#/me") });
  }

  end() {
    this.gone = true;
    clearInterval(this.resting);
    this.other = null;
    this.acts.stop();
    this.screen.end();
  }
}

/** Shows the sheet with this id, or one line of it that is to be answered again. @type {import("../core/ctx.d.ts").Mount} */
export function mount(root, ctx, _name, id = "", line = "") {
  const walk = new Walk(root, ctx, id, line);
  return () => walk.end();
}
