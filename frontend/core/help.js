// Help: what each screen is for, in three sentences, and the pit's words for whoever is new.

import { b, dd, dl, dt, p } from "./tags.js";

/** By the screen's name in the hash; of the captain's, by the list beside the robots. @type {Record<string, string[]>} */
const screens = {
  me: [
    "This is what the board asks of you next, with one big button to do it.",
    "If it can’t be done, press trouble; all else is behind more.",
    "Nothing counts before the board has said so: look at the line above the buttons.",
  ],
  robot: [
    "This is one robot: its power, who is in it, its jobs and its sheets.", "UNKNOWN counts as live: keep hands out until it is made safe.",
    "Put your tag on before you work in it, and take it off yourself.",
  ],
  sheet: [
    "Look at the robot, then answer the one line that is shown.", "Your name and the time stand beside your answer for good.",
    "If it is not so, press the smaller button: the board then says what comes next.",
  ],
  damage: [
    "Say which part is hit and how badly; a photo helps.", "What can hurt people is reported first, even while you are unsure.",
    "Then make a job of it, or leave that to the lead.",
  ],
  pack: [
    "Each pack has a page: read its cells, move it, charge it.", "Only a reading makes a pack charged.",
    "A pack that is swollen, hot or hit is set aside, and never comes back.",
  ],
  captain: [
    "Robots and their jobs stand at one side, a list at the other; the tabs choose the list.",
    "What a row can do most is in sight, the rest is behind ⋯.", "A form shows what matters first; the rest is behind more.",
  ],
  order: [
    "Only our own fights are entered, by their places in the running order.",
    "Say which fight is on when you see it: the countdowns follow from it, and not every fight needs it.",
    "After a fight enter its result: its robot is unknown then, with its packs in it.",
  ],
  plan: [
    "Who does what when, up to each call, as the board plans it.", "It changes with new work, and by hand: choose who and how at each job.",
    "Where it won’t work out, the list beside it says what to leave off.",
  ],
  person: [
    "Everyone in the pit, with what they may do.", "May lock out names the energies that a person may make safe and verify.",
    "Minors and guests say that their hands are near, and nothing more.",
  ],
  event: [
    "The event’s own settings, in four groups by when they are needed.",
    "Without the first group no robot has power and no pack is charged.",
    "Ask the officials: the board has no such rules of its own.",
  ],
};

/** Other names of the same help. @type {Record<string, string>} */
const same = { packs: "pack", read: "pack", move: "pack", charge: "pack" };

/** @type {[string, string][]} */
const words = [
  ["call", "when our robot must be at staging, before its fight starts"],
  ["UNKNOWN", "nobody has said that it is safe: treat it as live"],
  ["LIVE", "it has power: hands out"],
  ["make safe", "take away everything that can hurt, one line at a time"],
  ["verified", "someone checked that it is really away"],
  ["my tag", "“I am working on this robot.” Nobody powers it while a tag is on. Only you take yours off"],
  ["hands near", "the same warning from a guest or anyone under age"],
  ["sheet", "a list of questions; each answer has a name and a time"],
  ["READY", "signed: it may go to its fight"],
  ["must", "not safe, or not allowed to fight, without it"],
  ["should", "without it the fight may be lost"],
  ["could", "nice to have"],
  ["likely, bad case", "half the jobs are done by the first time, nine of ten by the second"],
  ["8 of 10", "on eight of ten days like this one we make the call"],
  ["TIGHT", "we may miss the call"],
  ["WON’T FINISH", "as planned we miss it: something must be left off"],
  ["leave off", "a fault stays in the robot, and a named person answers for it"],
  ["set aside", "this pack is never used or charged again"],
  ["PEOPLE", "the alarm that comes before all others: someone could get hurt"],
  ["RAISE ALARM", "anyone may press it, at any time"],
];

/** What the screen of a name is for, and the words. @param {string} name @param {string} [other] where that has no help of its own */
export function helpView(name, other = "captain") {
  const called = same[name] ?? name;
  const known = called in screens ? called : other;
  return [
    screens[known].map((sentence) => p({ key: sentence, class: "lead" }, sentence)),
    dl({ key: "words", class: "words-list" },
      words.map(([word, means]) => [dt({ key: word }, b(null, word)), dd({ key: `${word} means` }, means)])),
  ];
}
