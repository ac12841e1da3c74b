// Join: code, name, PIN. A device without a session sees this and nothing else.

import { b, button, div, form, h1, h2, input, label, p, render, span, tap } from "./core/tags.js";

/** @typedef {import("./core/wire.d.ts").RosterEntry} Someone */
/** @typedef {Partial<import("./core/wire.d.ts").RosterAnswer & import("./core/wire.d.ts").RefusedAnswer>} Answer */

/** @type {Record<string, string>} */
const roleWords = { captain: "captain", crew: "crew", safety: "safety lead", viewer: "a screen that only shows the board" };

/** Asks to join. @param {import("./core/wire.d.ts").JoinAsk} ask @returns {Promise<Answer>} */
async function join(ask) {
  const lost = { refusal: {
    code: /** @type {const} */ ("offline"), sentence: "The board did not answer. Stay on this Wi-Fi, then try again.",
  } };
  const answer = await fetch("/api/join", {
    method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(ask),
  }).catch(() => null);
  return (await answer?.json().catch(() => null)) ?? lost;
}

/** @type {import("./core/ctx.d.ts").Mount} */
export function mount(root, ctx) {
  const at = {
    code: decodeURIComponent(location.hash.replace(/^#\/?/, "")),
    role: "", name: "", pin: "", wrong: "", asking: false, fresh: false, chosen: false,
    /** @type {Someone[]} */
    people: [],
  };

  /** @param {{name?: string, pin?: string}} [more] */
  async function ask(more = {}) {
    at.asking = true;
    at.wrong = "";
    draw();
    const answer = await join({ code: at.code.trim(), ...more });
    at.asking = false;
    at.wrong = answer.refusal?.sentence ?? "";
    if (answer.role && (more.name || answer.role === "viewer")) return entered();
    // Nobody is on a new board's roster: there is no name to choose.
    if (answer.role) Object.assign(at, { role: answer.role, people: answer.people ?? [], fresh: !answer.people?.length });
    return draw();
  }

  function entered() {
    history.replaceState(null, "", "/");
    ctx.live.again();
  }

  /** @param {string} name @param {boolean} fresh */
  function choose(name, fresh) {
    Object.assign(at, { name, fresh, chosen: !fresh, pin: "", wrong: "" });
    draw();
  }

  function back() {
    Object.assign(at, { name: "", fresh: false, chosen: false, pin: "", wrong: "" });
    draw();
  }

  const wrong = () => (at.wrong ? p({ class: "wrong", role: "alert" }, at.wrong) : null);

  /** @param {string} words @param {boolean} off */
  const go = (words, off) =>
    button({ class: "press main", type: "submit", disabled: off || at.asking }, at.asking ? "asking the board …" : words);

  /** @param {() => void} act @returns {(e: Event) => void} */
  const submits = (act) => (e) => {
    e.preventDefault();
    if (!at.asking) act();
  };

  const codeForm = () =>
    form({ key: "code", onSubmit: submits(() => ask()) },
      label({ for: "code" }, "Join code"),
      input({
        id: "code", class: "code", type: "text", value: at.code, autocomplete: "off", autocapitalize: "characters", spellcheck: false,
        onInput: (e) => { at.code = e.currentTarget.value; draw(); },
      }),
      p({ class: "word" }, "It is on the board’s start screen, or in the square that a phone’s camera reads."),
      wrong(),
      go("JOIN", at.code.trim() === ""));

  const namesView = () =>
    div({ class: "names", key: "names" },
      h2(null, "Who are you?"),
      at.people.map((someone) =>
        button({ key: someone.id, type: "button", class: "press", onClick: () => choose(someone.name, false) },
          span(null, someone.name), span({ class: "more" }, someone.claimed ? "needs the PIN" : "first use"))),
      tap({ words: "my name is not here", act: () => choose("", true) }),
      wrong());

  const pinForm = () => {
    const known = at.people.find((someone) => someone.name === at.name);
    const claimed = known?.claimed === true;
    return form({ key: "pin", onSubmit: submits(() => ask({ name: at.name.trim(), pin: at.pin })) },
      at.chosen
        ? h2(null, at.name)
        : [
            label({ for: "name" }, "Your name"),
            input({
              id: "name", type: "text", value: at.name, maxLength: 80, autocomplete: "off",
              onInput: (e) => { at.name = e.currentTarget.value; draw(); },
            }),
            at.role === "crew"
              ? p({ class: "word" }, "A new name is a guest until the captain says more: you can mark your hands near, and look.")
              : null,
          ],
      label({ for: "pin" }, claimed ? "PIN, 6 digits" : "Choose a PIN, 6 digits"),
      input({
        id: "pin", class: "pin", type: "password", inputMode: "numeric", pattern: "[0-9]{6}", maxLength: 6, value: at.pin,
        autocomplete: "off", onInput: (e) => { at.pin = e.currentTarget.value; draw(); },
      }),
      p({ class: "word" }, claimed
        ? "This name has a PIN. Forgotten: ask the captain."
        : "First use sets it. It is your signature on other people’s phones: tell nobody."),
      wrong(),
      go(at.name.trim() ? `JOIN AS ${at.name.trim()}` : "JOIN", !/^\d{6}$/.test(at.pin) || !at.name.trim()),
      at.people.length ? tap({ words: "another name", act: back }) : null);
  };

  const plain = () =>
    div({ class: "plain" },
      location.protocol === "https:" ? null : p(null, b(null, "Plain http. "),
        "Anyone on this Wi-Fi can read what this page sends, the PIN too. Use a PIN that you use nowhere else."),
      p(null, b(null, "Stay connected. "), "This Wi-Fi may have no internet: tell your phone to keep it."),
      at.role === "viewer" ? null : p(null, b(null, "Keep the screen on. "),
        "In the phone’s own settings, set its screen time-out to the longest, and turn the sound up: it sounds for your " +
          "robot’s call and for an emergency, while its screen is on."));

  function draw() {
    const step = !at.role ? codeForm() : at.chosen || at.fresh ? pinForm() : namesView();
    render(
      div(null,
        h1(null, "Join the board"),
        p({ class: "word" }, at.role ? `as ${roleWords[at.role]}` : "The team’s pit board."),
        step, plain()),
      root);
  }

  draw();
  if (at.code) ask();
  return () => render(null, root);
}
