// A signer without a phone sets their first PIN on the captain's device.

/**
 * Sets it, and tells whether the board took it.
 * @param {import("./acts.js").Acts} acts
 * @param {string} person
 * @param {string} pin
 */
export async function firstPin(acts, person, pin) {
  const asks = { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify({ person, pin }) };
  const answer = await fetch("/api/pins/first", asks).catch(() => null);
  const said = await answer?.json().catch(() => null);
  if (answer?.ok) return true;
  acts.refuse("a PIN", said?.refusal ?? { code: "offline", sentence: "The board did not answer. Try again when it is back." });
  acts.redraw();
  return false;
}
