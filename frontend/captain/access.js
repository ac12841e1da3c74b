// Captain: join codes, the devices that have joined, and where the board's file is.

import { ago, b, div, h2, hold, p, tap } from "../core/tags.js";
import { nameOf } from "../core/words.js";
import { about } from "./row.js";
import { copiesView, copyLink } from "./copies.js";
import { Door } from "./door.js";

/** @typedef {import("./captain.js").Captain} Captain */
/** @typedef {import("../core/wire.d.ts").Role} Role */
/** @typedef {import("../core/wire.d.ts").SessionEntry} Session */
/** @typedef {import("../core/wire.d.ts").CodeEntry} Code */
/** @typedef {import("../core/wire.d.ts").FileAnswer} File */

/** @type {[Role, string][]} */
const roles = [["captain", "captain"], ["crew", "crew"], ["safety", "safety lead"], ["viewer", "wall, shows only"]];

/** Codes and devices, asked of the server when this list is first shown. */
export class Access {
  /** @type {Code[]} */
  codes = [];
  /** @type {Session[]} */
  sessions = [];
  /** What another laptop needs to keep copies, "" while none may. */
  copiesCode = "";
  trouble = "";
  asked = false;
  /** Where the board's file is, asked when the board takes no changes. @type {File | null} */
  file = null;
  fileAskedFor = "";

  /** @param {Captain} captain */
  constructor(captain) {
    this.captain = captain;
    this.door = new Door(this);
  }

  stop() {
    this.door.stop();
  }

  /** @param {string} path @param {object} [body] @returns {Promise<any>} the answer, or null with the trouble said */
  async call(path, body) {
    const asks = body ? { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(body) } : {};
    const answer = await fetch(path, asks).catch(() => null);
    const said = await answer?.json().catch(() => ({}));
    if (answer?.ok) return said;
    this.trouble = said?.refusal?.sentence ?? "The board did not answer. Try again when it is back.";
    return null;
  }

  async load() {
    this.asked = true;
    this.trouble = "";
    const [codes, sessions, copies] = await Promise.all(
      [this.call("/api/codes"), this.call("/api/sessions"), this.call("/api/copies/code"), this.door.load()]);
    this.copiesCode = copies?.code ?? "";
    this.codes = codes?.codes ?? [];
    this.sessions = sessions?.sessions ?? [];
    this.captain.redraw();
  }

  /** @param {string} path @param {object} body @param {string} says */
  async change(path, body, says) {
    if (await this.call(path, body)) this.captain.ctx.say(says);
    await this.load();
  }

  /** Ends many sessions, never this one. @param {object} which */
  async #endAll(which) {
    const answer = await this.call("/api/sessions/end", which);
    if (answer) this.captain.ctx.say(`ended ${answer.ended}: they must join again`);
    await this.load();
  }

  /** @param {import("../core/wire.d.ts").CopiesCodeAsk} ask @param {string} says */
  changeCopiesCode(ask, says) {
    return this.change("/api/copies/code", ask, says);
  }

  /** Asks a board that takes no changes to try its disk again. */
  async writeAgain() {
    const answer = await this.call("/api/again", {});
    this.captain.ctx.say(answer ? "the board takes changes again" : this.trouble);
    this.captain.redraw();
  }

  /** @param {string} why the board takes no changes */
  async #askFile(why) {
    this.fileAskedFor = why;
    this.file = await this.call("/api/file");
    this.captain.redraw();
  }

  /** What the captain does about a board that takes no changes. @param {string} why */
  readOnlyView(why) {
    if (why !== this.fileAskedFor) queueMicrotask(() => this.#askFile(why));
    return div(
      { class: "read-only" },
      tap({ words: "try again to write to the disk", act: () => this.writeAgain() }),
      this.file?.moved
        ? [
          p({ key: "was" }, "The board\u2019s file was ", b(null, this.file.path), ". Put it back there, and the board goes on."),
          this.file.rescued
            ? p({ key: "is" }, "A copy of the board is in ", b(null, this.file.rescued), ". Photos are not in it.")
            : p({ key: "is" }, "No copy of the board could be written. Download one now."),
          copyLink(),
        ]
        : null);
  }

  view() {
    if (!this.asked) queueMicrotask(() => this.load());
    return div(
      { class: "list" },
      div({ class: "column-head" }, h2(null, "join codes"), tap({ words: "look again", act: () => this.load() })),
      this.trouble ? p({ class: "form-wrong", role: "status" }, this.trouble) : null,
      roles.map(([role, words]) => this.codeView(role, words)),
      this.door.view(),
      h2(null, "devices"),
      this.unusedView(),
      this.sessions.map((s) => this.sessionView(s)),
      this.captain.condition.view(),
      copiesView(this),
    );
  }

  /** @param {Role} role @param {string} words */
  codeView(role, words) {
    const others = this.sessions.filter((s) => s.code === role && !s.mine).length;
    return div({ class: "card code", key: role },
      p(null, words, " ", b({ class: "code-text" }, this.codes.find((c) => c.role === role)?.code ?? "…")),
      div({ class: "card-acts" },
        tap({
          key: "new", words: "make a new code", label: `make a new code: ${words}`,
          act: () => this.change("/api/codes/change", { role }, `new code for ${words}`),
        }),
        others > 0
          ? hold({ key: "end", robot: role, words: `end all ${others} with the ${role} code`, act: () => this.#endAll({ role }) })
          : null));
  }

  /** Ends what is not connected: a phone in a pocket too, which then asks for its PIN. */
  unusedView() {
    const unused = this.sessions.filter((s) => s.sockets === 0 && !s.mine).length;
    return unused > 0
      ? div({ class: "card-acts", key: "unused" },
        hold({ robot: "connected", words: `end all ${unused} that are not connected`, act: () => this.#endAll({ unused: true }) }),
        p({ class: "hint" }, "A phone in a pocket may be one. Its owner joins again with their PIN."))
      : null;
  }

  /** @param {Session} s */
  sessionView(s) {
    const who = s.person ? nameOf(this.captain.board, s.person) : "a screen without a name";
    const others = this.sessions.filter((x) => x.person === s.person);
    const called = others.length > 1 ? `${who}, device ${others.indexOf(s) + 1}` : who;
    return div({ class: "card", key: s.id },
      p(null, b(null, called), ` · ${roles.find(([r]) => r === s.role)?.[1] ?? s.role}`, s.mine ? b(null, " · this one") : null),
      p({ class: "fact" }, s.sockets ? "connected now" : ["heard ", ago({ since: s.seen }), " ago"]),
      s.mine ? null : div({ class: "card-acts" }, about(called,
        tap({ words: "end it", act: () => this.change("/api/sessions/end", { session: s.id }, `${who} must join again`) }),
        s.person
          ? tap({
            class: "apart", words: "forget the PIN",
            act: () => this.change("/api/pins/forget", { person: s.person }, `${who} sets a new PIN at the next join`),
          })
          : null)));
  }
}
