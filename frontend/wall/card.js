// Card: a wall shows all of the officials' card in an emergency, as large as it can.

/** The share of a wall's height that a card may take before bands give way to it. */
const HALF = 0.62;
const LEAST_PERCENT = 30;

/**
 * How a wall may show a card, the best to read first: whether bands keep their half,
 * size of the letters, columns.
 * @type {[boolean, number, number][]}
 */
const layouts = [[true, 1, 1], [true, 1, 2], [false, 1, 1], [false, 1, 2]];
for (let percent = 95; percent >= LEAST_PERCENT; percent -= 5) {
  for (let columns = 1; columns <= (percent < 70 ? 3 : 2); columns++) layouts.push([false, percent / 100, columns]);
}

/**
 * Shows the card above a wall in the first layout that has all of it in sight,
 * and the wall's head and foot too.
 * @param {HTMLElement} wall
 */
export function fitCard(wall) {
  const notices = /** @type {HTMLElement} */ (document.getElementById("notices"));
  const words = notices.querySelector(".card-text");
  if (!words) return;
  const rest = [...wall.querySelectorAll("header, .axis-row, footer")].reduce((sum, e) => sum + e.getBoundingClientRect().height, 0);
  const room = innerHeight - rest - 4;
  for (const [halved, size, columns] of layouts) {
    notices.style.setProperty("--card-size", String(size));
    notices.style.setProperty("--card-columns", String(columns));
    if (notices.scrollHeight <= (halved ? Math.min(room, innerHeight * HALF) : room) && words.scrollWidth <= words.clientWidth) return;
  }
}
