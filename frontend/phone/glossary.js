// Help on a phone: what the screen is for that asked, and the pit's words.

import { helpView } from "../core/help.js";
import { div } from "../core/tags.js";

/** @typedef {import("./page.js").Phone} Phone */

/** @param {Phone} phone */
const helpPage = (phone) => phone.frame(undefined, "Help and words",
  div({ class: "help-text" }, helpView(phone.about, "me")),
  phone.to("#/me", "MY NEXT MOVE", "main"));

/** The page of this module by name. @type {Record<string, (phone: Phone) => import("../core/tags.js").Node>} */
export const pages = { words: helpPage };
