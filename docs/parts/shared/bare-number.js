// A number without a unit. It is read in the unit that the reader chose, so it must be given that unit before
// another one is chosen: a choice of how to show amounts never changes an amount.

// A percentage, or a unit, makes it more than a number alone; a fraction does not.
const BARE_NUMBER = /^[+\-−–]?[\p{Nd}\p{No}\s.,/⁄]*[\p{Nd}\p{No}]$/u;

/**
 * @param {HTMLInputElement} box
 * @param {string} unit the unit that a number alone in it has; none where it needs none
 * @returns {boolean} whether it was written into the box
 */
export function giveUnit(box, unit) {
  const number = box.value.trim();
  if (!unit || !BARE_NUMBER.test(number)) return false;
  box.value = `${number} ${unit}`;
  return true;
}
