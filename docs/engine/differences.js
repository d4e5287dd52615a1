// The snapshot as it is sent: only what differs from the memory that Pyodide's WebAssembly brings along.
// make.mjs says how the words follow each other.

// Where Pyodide looks for Python's library; the snapshot knows its modules by this place.
export const LIBRARY_PLACE = '/lib/python314.zip';
// How many words come before Pyodide's own head.
const FIGURES = 5;

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

/** Writes the snapshot into memory itself: a copy of the whole of it would cost a reader as much again. */
export class Differences {
  #sent;
  #sum;
  #size;
  #runs;
  #words;
  #start;

  /** @param {Uint32Array} sent */
  constructor(sent) {
    const [sum, size, filled, headLength, runCount] = sent;
    const runsAt = FIGURES + headLength;
    this.#sent = sent;
    this.#sum = sum;
    this.#size = size;
    this.#runs = sent.subarray(runsAt, runsAt + 2 * runCount);
    this.#words = sent.subarray(runsAt + 2 * runCount);
    this.#start = new Uint32Array(filled);
    /** What Pyodide reads of a snapshot before its memory. */
    this.head = new Uint8Array(sent.slice(FIGURES, runsAt).buffer);
    /** How large the memory was. */
    this.bytes = size * Uint32Array.BYTES_PER_ELEMENT;
  }

  /**
   * See what the WebAssembly brings along.
   * @param {Uint32Array} memory with nothing run yet: later it depends on the reader's language, the clock and chance
   */
  begin(memory) {
    this.#start.set(memory.subarray(0, this.#start.length));
  }

  /**
   * Make the memory what it was in the snapshot. What is empty is left untouched, so that it takes no room.
   * @param {Uint32Array} memory
   * @param {number} used how many words, from the first, something may have been written into
   * @returns {boolean} whether it is what was sent: it is not where the WebAssembly is another
   */
  restore(memory, used) {
    const words = this.#words;
    const start = this.#start;
    let [sum, at, end] = [0, 0, 0];
    for (let run = 0; run < this.#runs.length; run += 2) {
      const [from, length] = this.#runs.subarray(run);
      clear(memory, start, end, Math.min(from, used));
      end = from + length;
      const told = memory.subarray(from, end);
      told.set(words.subarray(at, (at += length)));
      for (let i = from; i < end && i < start.length; i++) memory[i] ^= start[i];
      sum = checksum(sum, told);
    }
    clear(memory, start, end, Math.min(this.#size, used));
    return sum === this.#sum;
  }

  /** Let go of it at once: the browser might keep it for minutes. */
  forget() {
    for (const {buffer} of [this.#sent, this.#start]) /** @type {any} */ (buffer).transfer?.(0);
  }
}

/**
 * @param {Uint32Array} memory
 * @param {Uint32Array} start
 * @param {number} from
 * @param {number} to
 */
function clear(memory, start, from, to) {
  const filled = Math.min(Math.max(from, start.length), to);
  if (from < filled) memory.set(start.subarray(from, filled), from);
  for (let i = filled; i < to; i++) if (memory[i]) memory[i] = 0;
}
