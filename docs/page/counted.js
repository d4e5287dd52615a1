/**
 * A word as it follows a number, for words whose plural adds an s (calc/words.py does the same).
 * @param {number} number
 * @param {string} word
 */
export function plural(number, word) {
  return number === 1 ? word : `${word}s`;
}

/**
 * A number and its word: “1 mark”, “2 marks”.
 * @param {number} number
 * @param {string} word
 */
export function counted(number, word) {
  return `${number} ${plural(number, word)}`;
}
