/**
 * Tells whether two memories are the same; not against forgery.
 * @param {Uint32Array} words
 * @returns {number}
 */
export function checksum(words) {
  let sum = 0;
  for (let i = 0; i < words.length; i++) sum = (Math.imul(sum, 31) + words[i]) | 0;
  return sum >>> 0;
}
