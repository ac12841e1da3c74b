// Captain, the first steps on a new board: who, which robots, their fights, what safety
// needs, which fight is on. The board says what is done and what comes next.

import { button, div, fieldset, h2, input, label, legend, li, ol, p, section, span, tap, textarea } from "../core/tags.js";
import { eventGroups, name, usualClasses } from "./fields.js";
import { placeKind, robotKind } from "./kinds.js";
import { askEvent, fieldsOf } from "./lists.js";
import { listNames } from "../core/words.js";
import { byName, robotName, robots, sawOf } from "../core/screen.js";

/** @typedef {import("./captain.js").Captain} Captain */
/** @typedef {import("../core/wire.d.ts").Lack} Lack */
/** @typedef {import("../core/wire.d.ts").FirstSteps} Steps */
/** @typedef {import("../core/tags.js").Children} Children */

/** @type {Record<Lack, string>} */
const titles = {
  people: "Who is in the team?", robots: "Which robots?", fights: "Which fights are ours?", safety: "What safety needs",
  "on-now": "Which fight is on now?",
};

/** Places in the running order that a tap ticks; higher ones are typed. */
const places = Array.from({ length: 24 }, (_, i) => String(i + 1));

/** The steps are folded on this page until it is closed. */
const FOLDED = "first steps folded";

/** The first steps, with what is typed into them. */
export class First {
  /** The step that was opened by hand. @type {Lack | ""} */
  #opened = "";
  #folded = sessionStorage.getItem(FOLDED) === "yes";
  #names = "";
  #robot = { name: "", cls: "" };
  #fights = { robot: "", ticked: new Set(/** @type {number[]} */ ([])), typed: "", arena: "" };
  /** What was refused, under its step. */
  #wrong = "";

  /** @param {Captain} captain */
  constructor(captain) {
    this.captain = captain;
  }

  view() {
    const first = this.captain.board.get("first/event");
    if (!first) return null;
    const done = first.steps.filter((x) => x.done).length;
    return section({ key: "first", class: "first-steps", "aria-label": "first steps" },
      div({ class: "column-head" },
        h2(null, `First steps · ${done} of ${first.steps.length}`),
        tap({ words: this.#folded ? "show" : "hide", label: `${this.#folded ? "show" : "hide"}: first steps`, act: () => this.#fold() })),
      this.#folded ? null : ol(null, first.steps.map((x) => this.#step(first, x))));
  }

  #fold() {
    this.#folded = !this.#folded;
    sessionStorage.setItem(FOLDED, this.#folded ? "yes" : "");
    this.captain.redraw();
  }

  /** @param {Steps} first @param {import("../core/wire.d.ts").FirstStep} step */
  #step(first, { lack, done }) {
    const open = (this.#opened || first.next) === lack;
    const turn = () => { this.#opened = open ? "" : lack; this.#wrong = ""; this.captain.redraw(); };
    return li({ key: lack, class: open ? "open" : "" },
      button({ type: "button", class: "row-head", "aria-expanded": open, onClick: turn },
        span({ class: "step-mark", "aria-hidden": "true" }, done ? "✓" : "○"),
        span({ class: "row-words" },
          span({ class: "row-title" }, titles[lack]), " ",
          span({ class: "row-says" }, [done && "done", this.#has(lack)].filter(Boolean).join(": ")))),
      open
        ? div({ class: "step-body" },
          this.#wrong ? p({ class: "form-wrong", role: "status" }, this.#wrong) : null, this.#body(first, lack))
        : null);
  }

  /** What of it is on the board. @param {Lack} lack */
  #has(lack) {
    const { board, ctx } = this.captain;
    switch (lack) {
      case "people": return listNames(byName(board.all("person").filter((x) => !x.retired)).map((x) => x.name));
      case "robots": return listNames(robots(ctx).map((r) => `${r.number} ${r.name}`));
      case "fights":
        return listNames(board.all("fight").filter((f) => f.state !== "dropped").sort((x, y) => x.number - y.number)
          .map((f) => `${f.number} ${board.get(`robot/${f.robot}`)?.name}`));
    }
    return "";
  }

  /** @param {Steps} first @param {Lack} lack @returns {Children} */
  #body(first, lack) {
    switch (lack) {
      case "people": return this.#people();
      case "robots": return this.#robots();
      case "fights": return this.#ours(first);
      case "safety": return this.#safety(first);
    }
    return this.#on(first);
  }

  /**
   * Gives commands one after the other, as far as none is refused, and is how many were done.
   * @param {import("../core/acts.js").Deed<any>[]} deeds
   */
  async #give(deeds) {
    /** @type {string[]} */
    const before = [];
    this.#wrong = "";
    for (const deed of deeds) {
      const answer = await this.captain.acts.ask({ ...deed, quiet: true, before: [...before].reverse() });
      if (answer.refusal) {
        this.#wrong = answer.refusal.sentence;
        break;
      }
      before.push(answer.id);
    }
    this.captain.redraw();
    return before.length;
  }

  #people() {
    const names = this.#names.split(/[\n,;]/).map((x) => x.trim()).filter(Boolean);
    return [
      label({ class: "field", for: "first-names" }, span({ class: "label" }, "names, one a line"),
        textarea({
          id: "first-names", rows: 3, value: this.#names, autoComplete: "off",
          onInput: (e) => { this.#names = e.currentTarget.value; this.captain.redraw(); },
        })),
      p({ class: "hint" }, "All as crew. Say under people who is under age, a safety lead or a signer, and who may lock out what."),
      tap({
        class: "main", words: `add ${listNames(names) || "them"}`, off: !names.length,
        act: async () => {
          const done = await this.#give(names.map((x) => ({
            do: "person.add", with: { name: x, role: "crew" }, says: `added ${listNames(names)}`, undo: true,
          })));
          this.#names = names.slice(done).join("\n");
          this.captain.redraw();
        },
      }),
    ];
  }

  #robots() {
    const { name: called, cls } = this.#robot;
    const of = usualClasses.find((x) => x.words === cls);
    return [
      label({ class: "field", for: "first-robot" }, span({ class: "label" }, "its name"),
        input({
          id: "first-robot", type: "text", value: called, autoComplete: "off",
          onInput: (e) => { this.#robot.name = e.currentTarget.value; this.captain.redraw(); },
        })),
      ticks("its class and limit, if you know", "radio", usualClasses.map((x) => x.words), (x) => x === cls,
        (x) => { this.#robot.cls = x; this.captain.redraw(); }),
      div({ class: "card-acts" }, tap({ words: "another class …", act: () => this.captain.open({
        title: "A new robot", do: "robot.add", fields: robotKind.fields, from: { ...robotKind.fresh(), name: called.trim() },
        says: "robot added",
      }) })),
      tap({
        class: "main", words: `add ${called.trim() || "it"}`, off: !called.trim(),
        act: async () => {
          const given = { ...robotKind.fresh(), number: 0, ...(of ? { size: of.size, class: of.class } : {}), name: called.trim() };
          if (await this.#give([{ do: "robot.add", with: given, says: `added ${called.trim()}` }])) this.#robot.name = "";
          this.captain.redraw();
        },
      }),
    ];
  }

  /** @param {Steps} first */
  #ours(first) {
    const { ctx } = this.captain;
    const own = robots(ctx);
    const { ticked, typed, arena } = this.#fights;
    const robot = own.find((r) => r.id === this.#fights.robot) ?? (own.length === 1 ? own[0] : undefined);
    const numbers = [...ticked, ...(typed.match(/\d+/g) ?? []).map(Number)].sort((x, y) => x - y);
    const where = arena.trim() || first.arena;
    const set = (/** @type {Record<string, unknown>} */ what) => { Object.assign(this.#fights, what); this.captain.redraw(); };
    if (!own.length) return p({ class: "fact" }, "A robot comes first: one step up.");
    return [
      own.length > 1
        ? ticks("whose", "radio", own.map((r) => robotName(ctx, r.id)), (x) => robot !== undefined && x === robotName(ctx, robot.id),
          (x) => set({ robot: own.find((r) => robotName(ctx, r.id) === x)?.id }))
        : null,
      ticks("its places in the running order", "checkbox", places, (x) => ticked.has(Number(x)),
        (x) => { if (!ticked.delete(Number(x))) ticked.add(Number(x)); set({}); }),
      div({ class: "two-fields" },
        label({ class: "field", for: "first-places" }, span({ class: "label" }, "higher ones"),
          input({
            id: "first-places", type: "text", value: typed, autoComplete: "off",
            onInput: (e) => set({ typed: e.currentTarget.value }),
          })),
        label({ class: "field", for: "first-arena" }, span({ class: "label" }, "arena"),
          input({
            id: "first-arena", type: "text", value: arena, placeholder: first.arena, autoComplete: "off",
            onInput: (e) => set({ arena: e.currentTarget.value }),
          }))),
      tap({
        class: "main", words: numbers.length ? `add ${listNames(numbers.map(String))}` : "add them", off: !robot || !numbers.length,
        act: async () => {
          const done = await this.#give(numbers.map((number) => ({
            do: "fight.add", with: { robot: robot?.id, arena: where, number }, undo: true,
            says: `${robot?.name}: ${listNames(numbers.map(String))} in ${where}`,
          })));
          set({ ticked: new Set(), typed: numbers.slice(done).join(" ") });
        },
      }),
    ];
  }

  /** @param {Steps} first */
  #safety(first) {
    const { captain } = this;
    const { ctx, board } = captain;
    const todo = (/** @type {string} */ words, /** @type {() => void} */ act, says = "") =>
      div({ key: words, class: "card-acts" }, tap({ words, act }), says ? span({ class: "fact" }, says) : null);
    return [
      p({ class: "fact" }, "Nobody works on a robot, powers it or charges a pack before this is entered."),
      (first.unsaid ?? []).map((id) => {
        const robot = board.get(`robot/${id}`);
        return robot && todo(`how ${robotName(ctx, id)} can hurt`, () => captain.open({
          title: `Every way ${robot.name} can hurt`, do: "robot.change", fields: robotKind.fields.filter((f) => f.name === "energies"),
          from: { energies: [robotKind.fields.find((f) => f.name === "energies")?.fresh?.()] },
          also: { ...fieldsOf(robotKind.fields, robot), robot: id }, seen: sawOf(ctx, `robot/${id}`), says: `${robot.name} changed`,
        }));
      }),
      first.noShelf
        ? todo("where packs may be charged", () => captain.open({
          title: "Where may packs be charged?", do: "place.add", fields: placeKind.fields.filter((f) => f === name), from: { name: "" },
          also: { kind: "charging" }, says: "place added", undo: true,
        }))
        : null,
      first.lacks
        ? todo("the event’s settings", () => askEvent(captain, eventGroups[0]), `not entered: ${listNames(first.lacks)}`)
        : null,
    ];
  }

  /** @param {Steps} first */
  #on({ arena, numbers }) {
    const on = (/** @type {number} */ number) => this.#give([{
      do: "fight.now", with: { arena, number }, says: `${arena}: fight ${number} is on now`, undo: true,
    }]);
    return [
      p({ class: "fact" }, `In ${arena}. Not begun yet? Come back here when it has.`),
      div({ class: "numbers", role: "group", "aria-label": titles["on-now"] },
        numbers.map((n) => tap({ key: String(n), words: String(n), label: `${n} is on now`, act: () => on(n) }))),
      div({ class: "card-acts" }, tap({ words: "another …", label: "another … is on now", act: () => this.captain.open({
        title: "Which fight is on now?", do: "fight.now", from: { arena }, says: "that fight is on now", undo: true,
        fields: [{ name: "arena", label: "arena", type: "text" }, { name: "number", label: "place in the running order", type: "whole" }],
      }) })),
    ];
  }
}

/**
 * Things to tick, one or any of them.
 * @param {string} what
 * @param {"radio" | "checkbox"} type
 * @param {string[]} options
 * @param {(option: string) => boolean} on
 * @param {(option: string) => void} turn
 */
const ticks = (what, type, options, on, turn) => fieldset({ key: what, class: "field many" }, legend(null, what),
  div({ class: options === places ? "numbers" : "kinds" }, options.map((x) => label({ key: x, class: on(x) ? "tick on" : "tick" },
    input({ type, name: what, checked: on(x), onChange: () => turn(x) }), span(null, x)))));
