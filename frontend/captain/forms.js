// Forms made from the descriptions in kinds.js.

import { clock } from "../core/clock.js";
import {
  div, fieldset, footer, form, h, h2, header, hold, input, label, legend, option, p, rule, select, span, tap, textarea,
} from "../core/tags.js";

/** @typedef {import("../core/tags.js").Node} Node */
/** @typedef {import("../core/tags.js").Refusal} Refusal */

/** @typedef {import("./fields.js").Field} Field */
/** @typedef {Record<string, any>} Draft what is typed: numbers as text, times as the time picker gives them */

const MINUTE = 60_000;

/** The time picker's form of a time on the wire, in the event's own time. @param {string | undefined} wire */
const pickerTime = (wire) => (wire ? new Date(Date.parse(wire) + clock.offsetMin * MINUTE).toISOString().slice(0, 16) : "");

/** A time of the time picker as it goes over the wire. @param {string} picked */
export const wireTime = (picked) => (picked ? new Date(Date.parse(`${picked}Z`) - clock.offsetMin * MINUTE).toISOString() : undefined);

/**
 * What a form starts from.
 * @param {Field[]} fields
 * @param {Draft} noun
 * @returns {Draft}
 */
export function typed(fields, noun) {
  /** @type {Draft} */
  const draft = {};
  for (const f of fields) draft[f.name] = typedOne(f, noun[f.name]);
  return draft;
}

/** @param {Field} f @param {any} value */
function typedOne(f, value) {
  switch (f.type) {
    case "whole":
    case "number": return value === undefined ? "" : String(value / (f.per ?? 1));
    case "flag": return Boolean(value);
    case "time": return pickerTime(value);
    case "many":
    case "refs":
    case "lines": return [...(value ?? [])];
    case "rows": return (value ?? []).map((/** @type {Draft} */ row) => typed(f.fields ?? [], row));
    case "row": return typed(f.fields ?? [], value ?? {});
    default: return value ?? "";
  }
}

/**
 * What a form sends; what is empty is left out. A field that cannot be read goes
 * into wrong under its name.
 * @param {Field[]} fields
 * @param {Draft} draft
 * @param {Record<string, string>} wrong
 * @returns {Draft}
 */
export function wired(fields, draft, wrong) {
  /** @type {Draft} */
  const out = {};
  for (const f of fields) {
    const value = wiredOne(f, draft[f.name], wrong);
    const empty = value === undefined || value === "" || value === false || value === 0 || (Array.isArray(value) && value.length === 0);
    if (value !== undefined && (f.zero || !empty)) out[f.name] = value;
  }
  return out;
}

/** @param {Field} f @param {any} value @param {Record<string, string>} wrong */
function wiredOne(f, value, wrong) {
  switch (f.type) {
    case "whole":
    case "number": return wiredNumber(f, String(value).trim().replace(",", "."), wrong);
    case "time": return wireTime(value);
    case "text": return value.trim();
    case "lines": return value.map((/** @type {string} */ line) => line.trim()).filter(Boolean);
    case "rows": return value.map((/** @type {Draft} */ row) => {
      /** @type {Record<string, string>} */
      const inRow = {};
      const out = wired(f.fields ?? [], row, inRow);
      for (const sentence of Object.values(inRow)) wrong[f.name] = sentence;
      return out;
    });
    case "row": {
      const out = wired(f.fields ?? [], value, wrong);
      return Object.keys(out).length ? out : undefined;
    }
    default: return value;
  }
}

/** @param {Field} f @param {string} text @param {Record<string, string>} wrong */
function wiredNumber(f, text, wrong) {
  if (text === "") return f.zero ? 0 : undefined;
  const n = Number(text) * (f.per ?? 1);
  if (Number.isNaN(n)) wrong[f.name] = `${f.label}: "${text}" is not a number. Type it with figures only.`;
  return f.type === "whole" || f.per ? Math.round(n) : n;
}

/**
 * One open form.
 * @typedef {object} Ask
 * @property {string} title
 * @property {keyof import("../core/wire.d.ts").Commands} do
 * @property {Field[]} fields
 * @property {Draft} from noun or fresh object the fields start from
 * @property {Draft} [also] fields that are sent as they are
 * @property {Record<string, number>} [seen]
 * @property {string} says what it is called once done
 * @property {string} [save] words on the button
 * @property {string} [held] name of the robot it acts on: the button is held 800 ms
 * @property {boolean} [undo] it can be taken back
 * @property {string} [warns] what to know before
 */

/** What a few of the fields behind "more" are about, and of which row. @param {string} path @param {Field[]} rest */
function moreWords(path, rest) {
  const row = /\.(\d+)/.exec(path);
  const labels = rest.slice(0, 3).map((f) => f.label.split(/[,:(]/)[0]).join(", ");
  return `more${row ? ` of ${Number(row[1]) + 1}` : ""}: ${labels}${rest.length > 3 ? " …" : ""}`;
}

/** A form of the captain's screen, until it is saved or left. */
export class Form {
  /**
   * @param {Ask} ask
   * @param {import("../core/acts.js").Acts} acts
   * @param {() => void} leave
   */
  constructor(ask, acts, leave) {
    this.ask = ask;
    this.acts = acts;
    this.leave = leave;
    this.draft = { ...typed(ask.fields, ask.from), ...ask.also };
    /** @type {Record<string, string>} */
    this.wrong = {};
    this.top = "";
    /** The board has asked about what was sent: sent once more as it is, it counts. */
    this.asked = false;
    /** The groups of fields, by their path, of which all is shown. @type {Set<string>} */
    this.whole = new Set();
    /** The refusal whose rule is shown behind a field, or at the top. @type {{at: string, refusal: Refusal} | null} */
    this.ruled = null;
  }

  get board() {
    return this.acts.ctx.board;
  }

  async save() {
    this.wrong = {};
    this.top = "";
    this.ruled = null;
    const fields = this.sent();
    if (Object.keys(this.wrong).length) return this.acts.redraw();
    const { do: what, also, seen, says, undo } = this.ask;
    const sure = this.asked ? { sure: true } : {};
    const given = /** @type {any} */ ({ ...also, ...fields, ...sure });
    const answer = await this.acts.ask({ do: what, with: given, seen, says, undo, quiet: true });
    this.asked = answer.refusal?.field === "sure";
    if (answer.refusal) return this.refused(answer.refusal);
    return this.leave();
  }

  /** Shows a refusal at the field it names. @param {Refusal} refusal */
  refused(refusal) {
    const { field, sentence } = refusal;
    const at = field && this.ask.fields.some((f) => f.name === field) ? field : "";
    this.ruled = { at, refusal };
    if (at) this.wrong[at] = sentence;
    else this.top = sentence;
    this.acts.redraw();
    document.querySelector(".form .form-wrong")?.scrollIntoView({ block: "center" });
  }

  /** @param {string} at */
  ruleAt(at) {
    return this.ruled?.at === at ? rule(this.ruled.refusal) : null;
  }

  /** @returns {import("../core/tags.js").Children} */
  fieldsView() {
    return this.group("", this.ask.fields, (f) => [fieldView(f, this.draft, f.name, this), this.ruleAt(f.name)]);
  }

  /**
   * The fields that matter first; the others behind "more", unless one of them is wrong.
   * @param {string} path
   * @param {Field[]} fields
   * @param {(f: Field) => import("../core/tags.js").Children} view
   */
  group(path, fields, view) {
    const rest = fields.filter((f) => f.more);
    const whole = this.whole.has(path) || rest.some((f) => !path && this.wrong[f.name]);
    return [
      fields.filter((f) => !f.more).map(view),
      whole
        ? rest.map(view)
        : rest.length
        ? tap({
          key: `more ${path}`, class: "more-fields", words: moreWords(path, rest),
          act: () => { this.whole.add(path); this.acts.redraw(); },
        })
        : null,
    ];
  }

  /** What is sent; what cannot be read goes into this.wrong. @returns {Draft} */
  sent() {
    return wired(this.ask.fields, this.draft, this.wrong);
  }

  view() {
    const { title, warns, save = "save", held } = this.ask;
    return form(
      { class: "form", tabIndex: -1, "aria-label": title, onSubmit: (e) => { e.preventDefault(); } },
      header({ class: "form-head" }, h2(null, title), tap({ words: "cancel", act: this.leave })),
      div(
        { class: "form-fields" },
        warns ? p({ class: "form-warns" }, warns) : null,
        this.top ? p({ class: "form-wrong", role: "status" }, this.top) : null,
        this.ruleAt(""),
        this.fieldsView(),
      ),
      footer({ class: "form-foot" }, held
        ? hold({ class: "main", robot: held, words: save, act: () => this.save() })
        : tap({ class: "main", words: this.asked ? "yes, that is so" : save, act: () => this.save() })),
    );
  }
}

/**
 * @param {Field} f
 * @param {Draft} draft the object that holds the field
 * @param {string} path a name for the field within the page
 * @param {Form} on
 * @returns {Node}
 */
export function fieldView(f, draft, path, on) {
  const wrong = path === f.name ? on.wrong[f.name] : undefined;
  const set = (/** @type {unknown} */ value) => { draft[f.name] = value; on.asked = false; on.acts.redraw(); };
  const about = [
    f.hint ? span({ class: "hint", id: `h-${path}` }, f.hint) : null,
    wrong ? span({ class: "form-wrong", id: `w-${path}`, role: "status" }, wrong) : null,
  ];
  if (["many", "refs", "lines", "rows", "row"].includes(f.type)) {
    return fieldset({ key: path, class: `field ${f.type}` }, legend(null, f.label), about, groupView(f, draft, path, on, set));
  }
  const props = {
    id: `f-${path}`, "aria-invalid": wrong ? "true" : undefined,
    "aria-describedby": wrong ? `w-${path}` : f.hint ? `h-${path}` : undefined,
  };
  const words = span({ class: "label" }, f.label, f.unit ? span({ class: "unit" }, ` (${f.unit})`) : null);
  return label({ key: path, class: `field ${f.type}` },
    f.type === "flag" ? [oneView(f, draft, props, on, set), words] : [words, oneView(f, draft, props, on, set)],
    about);
}

/**
 * @param {Field} f
 * @param {Draft} draft
 * @param {Record<string, unknown>} props
 * @param {Form} on
 * @param {(value: unknown) => void} set
 * @returns {Node}
 */
function oneView(f, draft, props, on, set) {
  const value = draft[f.name];
  const onInput = (/** @type {any} */ e) => set(e.currentTarget.value);
  switch (f.type) {
    case "flag":
      return h("input", { ...props, type: "checkbox", checked: value, onChange: (/** @type {any} */ e) => set(e.currentTarget.checked) });
    case "note": return textarea({ ...props, rows: 5, value, onInput });
    case "choice": return chooser(f.options ?? [], value, props, set);
    case "ref": return chooser(offered(f, on), value, props, set);
    case "time": return h("input", { ...props, type: "datetime-local", value, onInput });
    case "whole":
    case "number":
      if (f.options) return chooser(f.options, value, props, set);
      return h("input", {
        ...props, type: "text", inputMode: f.type === "whole" ? "numeric" : "decimal", autoComplete: "off", value, onInput,
      });
    default: return h("input", { ...props, type: "text", autoComplete: "off", value, onInput });
  }
}

/**
 * The nouns a field chooses from.
 * @param {Field} f
 * @param {Form} on
 * @returns {import("./fields.js").Option[]}
 */
function offered(f, on) {
  const all = on.board.all(/** @type {any} */ (f.kind)).filter((/** @type {any} */ n) => (f.only ? f.only(n, on.draft) : !n.retired));
  return all
    .map((/** @type {any} */ n) => /** @type {[string, string]} */ ([n.id, labelOf(n)]))
    .sort((x, y) => x[1].localeCompare(y[1], undefined, { numeric: true }));
}

/** What a noun is called in a list to choose from. @param {any} n */
function labelOf(n) {
  if (n.arena) return `${n.arena} ${n.number}${n.opponent ? ` against ${n.opponent}` : ""}`;
  if (n.part) return `${n.number} ${n.part}`;
  return n.number ? `${n.number} ${n.name}` : n.name;
}

/**
 * @param {import("./fields.js").Option[]} options
 * @param {string} value
 * @param {Record<string, unknown>} props
 * @param {(value: string) => void} set
 */
function chooser(options, value, props, set) {
  return select(
    { ...props, value, onChange: (/** @type {any} */ e) => set(e.currentTarget.value) },
    option({ value: "" }, "—"),
    options.map(([v, words]) => option({ key: v, value: v, selected: v === value }, words)),
  );
}

/**
 * @param {Field} f
 * @param {Draft} draft
 * @param {string} path
 * @param {Form} on
 * @param {(value: any) => void} set
 * @returns {Node}
 */
function groupView(f, draft, path, on, set) {
  const value = draft[f.name];
  const fields = f.fields ?? [];
  switch (f.type) {
    case "many": return ticks(f.options ?? [], value, set);
    case "refs": return ticks(offered(f, on), value, set);
    case "lines":
      return ordered(f.label, value, set, () => f.options?.[0]?.[0] ?? "", (line, i, put) => lineView(f, line, `${f.label} ${i + 1}`, put));
    case "rows": return ordered(f.label, value, set, () => typed(fields, f.fresh?.() ?? {}), (row, i) =>
      div({ class: "row-fields" }, on.group(`${path}.${i}`, fields, (sub) => fieldView(sub, row, `${path}.${i}.${sub.name}`, on))), true);
    default: return div({ class: "row-fields" }, on.group(path, fields, (sub) => fieldView(sub, value, `${path}.${sub.name}`, on)));
  }
}

/** @param {Field} f @param {string} line @param {string} words @param {(line: string) => void} put */
function lineView(f, line, words, put) {
  if (f.options) return chooser(f.options, line, { "aria-label": words }, put);
  return input({ type: "text", autoComplete: "off", "aria-label": words, value: line, onInput: (e) => put(e.currentTarget.value) });
}

/** @param {import("./fields.js").Option[]} options @param {string[]} value @param {(value: string[]) => void} set */
function ticks(options, value, set) {
  if (options.length === 0) return p({ class: "hint" }, "none on the board yet");
  return div({ class: "ticks" }, options.map(([v, words]) => label({ key: v, class: value.includes(v) ? "tick on" : "tick" },
    input({
      type: "checkbox", checked: value.includes(v), onChange: () => set(value.includes(v) ? value.filter((o) => o !== v) : [...value, v]),
    }),
    span(null, words))));
}

/**
 * An ordered list whose items can be added, moved up and taken out.
 * @param {string} what
 * @param {any[]} list
 * @param {(list: any[]) => void} set
 * @param {() => any} fresh
 * @param {(item: any, i: number, put: (item: any) => void) => Node} view
 * @param {boolean} [block] an item is a group of fields
 */
function ordered(what, list, set, fresh, view, block = false) {
  const up = (/** @type {number} */ i) => set([...list.slice(0, i - 1), list[i], list[i - 1], ...list.slice(i + 1)]);
  const put = (/** @type {number} */ i) => (/** @type {any} */ item) => set(list.map((was, k) => (k === i ? item : was)));
  return div(
    { class: "ordered" },
    list.map((item, i) => div(
      { key: i, class: block ? "ordered-item tall" : "ordered-item" },
      span({ class: "ordered-number" }, `${i + 1}`),
      view(item, i, put(i)),
      div({ class: "ordered-acts" },
        tap({ words: "up", label: `up: ${what} ${i + 1}`, off: i === 0, act: () => up(i) }),
        tap({ words: "remove", label: `remove: ${what} ${i + 1}`, act: () => set(list.filter((_, k) => k !== i)) })),
    )),
    tap({ class: "add", words: "add a line", label: `add a line: ${what}`, act: () => set([...list, fresh()]) }),
  );
}
