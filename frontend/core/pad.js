// Pad: a number typed on big keys.

import { div, h, label, span, tap } from "./tags.js";

/**
 * @typedef {object} PadProps
 * @property {string} id of the field
 * @property {string} label
 * @property {string} value
 * @property {(text: string) => void} set
 * @property {boolean} [point] a decimal point can be typed
 * @property {boolean} [hidden] what is typed is not shown
 * @property {boolean} [unseen] the label is for ears
 */

/**
 * A number typed on big keys; a keyboard works too.
 * @param {PadProps} props
 */
export function pad(props) {
  const { value, set, point = false } = props;
  return div({ class: "pad" },
    padField(props),
    padKeys(value, set, point));
}

/**
 * Ten big keys in four rows of three, one to take the last back and, where it is wanted,
 * the point: one a figure, never first.
 * @param {string} value
 * @param {(text: string) => void} set
 * @param {boolean} point
 */
export function padKeys(value, set, point) {
  const typed = (/** @type {string} */ k) => (k !== "." ? value + k : value.includes(".") ? value : `${value || "0"}.`);
  const key = (/** @type {string} */ k) => tap({ key: k, class: "pad-key", words: k, act: () => set(typed(k)) });
  return div({ class: "pad-keys" },
    "123456789".split("").map(key),
    point ? key(".") : span({ key: "none" }),
    key("0"),
    tap({ key: "back", class: "pad-key", words: "⌫", label: "⌫ take the last back", act: () => set(value.slice(0, -1)) }));
}

/** @param {PadProps} props */
function padField({ id, label: words, value, set, hidden, unseen }) {
  return div(
    { class: unseen ? "pad-field spoken" : "pad-field" },
    label({ for: id, class: unseen ? "unseen" : undefined }, words),
    h("input", {
      id,
      type: hidden ? "password" : "text",
      inputMode: "none",
      autoComplete: "off",
      value,
      onInput: (/** @type {any} */ e) => set(e.currentTarget.value.replace(",", ".")),
    }),
  );
}
