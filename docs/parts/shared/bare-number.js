// A number without a unit. It is read in the unit that the reader chose, so it must be given that unit before
// another one is chosen: a choice of how to show amounts never changes an amount.

// A percentage, or a unit, makes it more than a number alone; a fraction does not.
const BARE_NUMBER = /^[+\-−–]?[\p{Nd}\p{No}\s.,/⁄]*[\p{Nd}\p{No}]$/u;

/**
 * @param {string} text
 * @param {string} unit
 * @returns {string} the text; a number alone in it with the unit
 */
export function withUnit(text, unit) {
  const number = text.trim();
  return unit && BARE_NUMBER.test(number) ? `${number} ${unit}` : text;
}

/**
 * @param {HTMLInputElement} box
 * @param {string} unit the unit that a number alone in it has; none where it needs none
 * @returns {boolean} whether it was written into the box
 */
export function giveUnit(box, unit) {
  const text = withUnit(box.value, unit);
  if (text === box.value) return false;
  box.value = text;
  return true;
}
