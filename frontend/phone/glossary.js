// Glossary: the pit's words on one page, for whoever is new.

import { b, dd, div, dl, dt } from "../core/tags.js";

/** @typedef {import("./page.js").Phone} Phone */

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

/** @param {Phone} phone */
const glossaryPage = (phone) => phone.frame(undefined, "Words",
  div(null, dl({ class: "words-list" },
    words.map(([word, means]) => [dt({ key: word }, b(null, word)), dd({ key: `${word} means` }, means)]))),
  phone.to("#/me", "MY NEXT MOVE", "main"));

/** The page of this module by name. @type {Record<string, (phone: Phone) => import("../core/tags.js").Node>} */
export const pages = { words: glossaryPage };
