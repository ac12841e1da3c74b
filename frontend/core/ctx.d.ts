// What a screen is given and gives back.

/** What a screen is given. */
export interface Ctx {
  board: import("./board.js").Board;
  live: import("./live.js").Live;
  clock: import("./clock.js").Clock;
  /** Shows the screen of a hash, such as "#/me". */
  go(hash: string): void;
  /** Tells a short sentence, to screen readers too. */
  say(sentence: string): void;
  /** What every screen must say: a phone's page shows it at the head of its middle. */
  notices(): import("preact").ComponentChildren;
  /** Light or dark paper, kept on this device. */
  setScheme(scheme: "light" | "dark"): void;
}

/** Draws a screen into a place, and gives what takes it away again; with a turn, the screen shows another of its pages itself. */
export type Mount = (root: HTMLElement, ctx: Ctx, ...args: string[]) => (() => void) & { turn?: (...args: string[]) => void };
