// Captain, a row: what it is about and how that stands, one verb in sight, the rest
// behind ⋯. To ears each button says what it is about.

import { Component, button, div, h, span } from "../core/tags.js";

/** @typedef {import("./captain.js").Captain} Captain */
/** @typedef {import("../core/tags.js").Children} Children */

/** Draws again only when one of the things it rests on is another. */
class Kept extends Component {
  /** @param {{on: unknown[]}} next */
  shouldComponentUpdate(next) {
    return next.on.some((x, i) => x !== this.props.on[i]);
  }

  render() {
    return this.props.view();
  }
}

/** @param {string} key @param {unknown[]} on all that the view shows @param {() => Children} view */
export const kept = (key, on, view) => h(/** @type {any} */ (Kept), { key, on, view });

/** Buttons about one thing. @param {string} what @param {...any} buttons */
export const about = (what, ...buttons) => buttons.flat(3).map((x) => (x?.props?.words && !x.props.label && !x.props.words.includes(what)
  ? h(x.type, { ...x.props, key: x.key ?? x.props.words, label: `${x.props.words}: ${what}` })
  : x));

/**
 * @typedef {object} Row
 * @property {string} id
 * @property {string} name
 * @property {Children} [says] how it stands, under its name
 * @property {Children} [side] a figure or a flag beside them
 * @property {any} [verb]
 * @property {() => any} rest
 */

/** @param {Captain} captain @param {Row} of */
export function row(captain, { id, name, says, side, verb, rest }) {
  const open = captain.openRow === id;
  return div({ class: open ? "row-of open" : "row-of", key: id, id: `row-${id}` },
    div({ class: "row-line" },
      button({ type: "button", class: "row-head", "aria-expanded": open, onClick: () => captain.unfold(id) },
        span({ class: "row-words" }, span({ class: "row-title" }, name), " ", says ? span({ class: "row-says" }, says) : null),
        " ", side ? span({ class: "row-side" }, side) : null,
        span({ class: "row-more", "aria-hidden": "true" }, open ? "–" : "⋯")),
      about(name, verb)),
    open ? div({ class: "row-acts" }, rest()) : null);
}

/**
 * What is over, folded to one line; what lies in it is drawn once it is opened.
 * @param {Captain} captain
 * @param {string} id
 * @param {string} words
 * @param {() => Children} view
 */
export function folded(captain, id, words, view) {
  const open = captain.unfolded.has(id);
  return div({ key: id, class: "fold-of" },
    button({
      type: "button", class: "row-head fold-head", "aria-expanded": open,
      onClick: () => {
        if (!captain.unfolded.delete(id)) captain.unfolded.add(id);
        captain.redraw();
      },
    }, `${words} ${open ? "▴" : "▾"}`),
    open ? view() : null);
}
