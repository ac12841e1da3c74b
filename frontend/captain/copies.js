// Captain: the folders and laptops that keep copies of the board, how old each copy
// is, and the code that a laptop needs.

import { a, ago, b, div, h2, p, span, tap } from "../core/tags.js";

/** @typedef {import("./access.js").Access} Access */
/** @typedef {import("../core/wire.d.ts").FolderCopies} Folder */
/** @typedef {import("../core/wire.d.ts").Laptop} Laptop */

export const copyLink = () => a({ key: "copy", class: "press", href: "/api/copy", download: "" }, "download a copy of the board");

/** How old a copy is. @param {Folder | Laptop} x */
const ageOf = (x) => (x.at
  ? p({ class: "fact" }, "copied ", b(null, ago({ since: x.at })),
    x.current ? " ago · nothing has changed since" : " ago · changes since then")
  : p({ class: "fact" }, "no copy yet"));

/**
 * The line in the captain's head: when the board was last copied, and whether a copy fails.
 * @param {import("../core/board.js").Board} board
 */
export function copiedLine(board) {
  const kept = board.get("copies/event");
  const all = [...kept?.folders ?? [], ...kept?.laptops ?? []];
  if (!all.length) return null;
  const last = all.map((x) => x.at ?? "").sort().pop();
  if (all.some((x) => x.failing)) return span({ class: "copied class-c" }, b(null, "a copy fails"));
  return span({ class: "copied" }, last ? ["copied ", ago({ since: last }), " ago"] : "not copied yet");
}

/** @param {Access} access @param {Folder | Laptop} x */
const failing = (access, x) => (x.failing
  ? p({ class: "alarm class-c" }, b(null, "no newer copy: "), `${x.failing} · since ${access.captain.ctx.clock.hhmm(x.since)}`)
  : null);

/** @param {Access} access */
export function copiesView(access) {
  const kept = access.captain.board.get("copies/event");
  return [
    h2({ key: "title" }, "copies of the board"),
    (kept?.folders ?? []).map((f) => div({ class: "card", key: f.path },
      p(null, "in ", b(null, f.path)),
      ageOf(f),
      failing(access, f),
      f.ownDisk || f.failing ? null : p({ class: "hint" }, "On this laptop\u2019s own disk: it is lost with it."))),
    (kept?.laptops ?? []).map((l) => div({ class: "card", key: l.address },
      p(null, "on the laptop ", b(null, l.address)),
      ageOf(l),
      failing(access, l))),
    kept?.folders.length
      ? null
      : p({ key: "how", class: "hint" }, "Started with -backup and a folder on a stick, the board copies itself to it every minute."),
    laptopView(access),
    p({ key: "by-hand", class: "hint" },
      "By hand: keep one away from this laptop. Photos are not in it. PINs can be worked out from it: keep it from others."),
    copyLink(),
  ];
}

/** The page is open on the board's own laptop, by a name that only leads there. */
const atHome = ["localhost", "127.0.0.1", "[::1]"].includes(location.hostname);
const address = atHome ? `http://ADDRESS:${location.port}` : location.origin;

/** @param {Access} access */
const laptopView = (access) => (access.copiesCode
  ? div({ class: "card", key: "laptop" },
    p(null, "For a second laptop, type on it:"),
    p({ class: "command" }, `mendline keep ${address} ${access.copiesCode}`),
    atHome ? p({ class: "hint" }, "ADDRESS is this laptop\u2019s in the Wi-Fi. The board printed it when it was started.") : null,
    p({ class: "hint" },
      "Whoever has this code gets copies, and PINs can be worked out from them. Read it on the board\u2019s own laptop."),
    div({ class: "card-acts" },
      tap({
        words: "make a new code", label: "make a new code: copies",
        act: () => access.changeCopiesCode({}, "the old code opens nothing now"),
      }),
      tap({ class: "apart", words: "no laptop any more", act: () => access.changeCopiesCode({ off: true }, "no laptop gets a copy now") })))
  : div({ class: "card", key: "laptop" },
    p({ class: "fact" }, "No other laptop may keep copies."),
    div({ class: "card-acts" },
      tap({ words: "let a second laptop keep copies", act: () => access.changeCopiesCode({}, "a second laptop may keep copies") }))));
