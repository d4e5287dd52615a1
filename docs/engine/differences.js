// The snapshot as it is sent: only what differs from the memory that Pyodide's WebAssembly brings along.
// make.mjs says how the words follow each other.

// Where Pyodide looks for Python's library; the snapshot knows its modules by this place.
export const LIBRARY_PLACE = '/lib/python314.zip';
// How many words come before the runs' starts and lengths.
const HEAD = 4;

/**
 * Tells whether two memories are the same; not against forgery.
 * @param {number} sum of what came before, 0 at first
 * @param {Uint32Array} words
 * @returns {number}
 */
export function checksum(sum, words) {
  for (let i = 0; i < words.length; i++) sum = (Math.imul(sum, 31) + words[i]) | 0;
  return sum >>> 0;
}

/**
 * @param {Uint32Array} sent
 * @returns {Uint32Array} room for the snapshot, so far empty
 */
export function roomFor(sent) {
  return new Uint32Array(sent[1]);
}

/**
 * Write the snapshot.
 * @param {Uint32Array} sent
 * @param {Uint32Array} snapshot as `roomFor` made it
 * @param {Uint32Array} start memory with nothing run yet: later it depends on the reader's language, the clock and chance
 * @returns {boolean} whether it is what was sent: it is not where the WebAssembly is another
 */
export function addDifferences(sent, snapshot, start) {
  const [sum, , filled, runs] = sent;
  const told = sent.subarray(HEAD, HEAD + 2 * runs);
  let at = HEAD + told.length;
  // The header comes first, and nothing of it is in memory.
  const memory = sent[at + 1] >> 2;
  snapshot.set(start.subarray(0, filled), memory);
  let found = 0;
  for (let run = 0; run < told.length; run += 2) {
    const [from, length] = told.subarray(run);
    for (let i = from; i < from + length; i++) snapshot[i] ^= sent[at++];
    found = checksum(found, snapshot.subarray(from, from + length));
  }
  return found === sum;
}
