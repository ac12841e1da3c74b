// Photos of a damage: made smaller on the phone, before the report or after it. The
// report goes first; a photo follows by itself and holds nothing up.

import { div, h, label, p, tap } from "../core/tags.js";
import { nextView } from "./damage-where.js";

/** @typedef {import("./damage.js").Report} Report */

const PHOTO_PX = 1600;
const PHOTO_QUALITY = 0.8;
const PHOTO_MOST_BYTES = 400_000;

/**
 * Shrinks a photo on the phone: long side 1600 px, JPEG. Smaller where the phone
 * cannot hold the whole picture or the result is still heavy.
 * @param {Blob} file
 * @returns {Promise<Blob | null>} null where the picture cannot be read
 */
async function shrink(file) {
  for (const px of [PHOTO_PX, PHOTO_PX / 2, PHOTO_PX / 4]) {
    const blob = await shrunk(file, px).catch(() => null);
    if (blob && (blob.size <= PHOTO_MOST_BYTES || px < PHOTO_PX)) return blob;
  }
  return null;
}

/** @param {Blob} file @param {number} px @returns {Promise<Blob | null>} */
async function shrunk(file, px) {
  const narrow = await createImageBitmap(file, { resizeWidth: px, resizeQuality: "high" });
  const scale = Math.min(1, px / Math.max(narrow.width, narrow.height));
  const canvas = document.createElement("canvas");
  canvas.width = Math.round(narrow.width * scale);
  canvas.height = Math.round(narrow.height * scale);
  canvas.getContext("2d")?.drawImage(narrow, 0, 0, canvas.width, canvas.height);
  narrow.close();
  return new Promise((done) => canvas.toBlob(done, "image/jpeg", PHOTO_QUALITY));
}

/** The two ways to a photo, and what became of it. @param {Report} on */
export function photoButtons(on) {
  const file = (/** @type {string} */ id, /** @type {string} */ words, /** @type {boolean} */ camera) =>
    label({ class: "press file", for: id }, words,
      h("input", {
        id, type: "file", class: "unseen", accept: "image/jpeg,image/png", ...(camera ? { capture: "environment" } : {}),
        onChange: (/** @type {any} */ e) => take(on, e.currentTarget),
      }));
  return [
    div({ class: "choices" }, file("take", "take a photo", true), file("choose", "choose a photo", false)),
    div({ role: "status" },
      photoLines(on).map((words) => p({ key: words, class: "lead" }, words)),
      on.photoNews ? p({ key: "news", class: "lead" }, on.photoNews) : null),
  ];
}

/** @param {Report} on */
export function photoPage(on) {
  return on.frame("A photo of it?",
    [
      p({ class: "lead" }, `Reported: ${on.part}. The photo follows by itself, you need not wait for it.`),
      photoButtons(on),
      on.line ? tap({ words: "make a job of it", act: () => on.show("job") }) : null,
      nextView(on),
    ],
    [
      div({ class: "row" },
        tap({ words: "my next move", act: () => on.ctx.go("#/me") }),
        tap({ words: "another damage", act: () => on.another() })),
      on.line
        ? tap({ class: "main goes", words: "BACK TO THE LINE", act: () => on.ctx.go(on.begun) })
        : tap({ class: "main goes", words: "MAKE A JOB OF IT", act: () => on.show("job") }),
    ]);
}

/** How far each photo of this damage is. @param {Report} on */
function photoLines(on) {
  if (!on.damage) return on.photos.map((_, i) => `photo ${i + 1}: goes with the report`);
  const there = on.board.get(`damage/${on.damage}`)?.photos ?? [];
  const going = on.ctx.live.photos.filter((w) => w.with.damage === on.damage && !there.includes(w.with.photo));
  return [
    ...there.map((_, i) => `photo ${i + 1}: on the board`),
    ...going.map(({ sent }, i) =>
      `photo ${there.length + i + 1}: ${sent === undefined ? "not sent yet, it goes by itself" : `${sent} % sent`}`),
  ];
}

/** @param {Report} on @param {HTMLInputElement} field */
async function take(on, field) {
  const file = field.files?.[0];
  field.value = "";
  if (!file) return;
  on.news("making the photo smaller …");
  const photo = await shrink(file);
  if (!photo) return on.news("This phone cannot read that picture. Take a screenshot of it and choose that.");
  on.news("");
  if (on.damage) return hang(on, photo);
  on.photos.push(photo);
  on.screen.redraw();
}

/** @param {Report} on @param {Blob} photo */
export const hang = (on, photo) =>
  on.acts.ask({ do: "damage.photo", with: { damage: on.damage, photo: "" }, photo, says: `photo of ${on.part}` });
