// The snapshot as it is sent: only what differs from the memory that Pyodide's WebAssembly brings along.
// make.mjs says how the words follow each other.

// Where Pyodide looks for Python's library; the snapshot knows its modules by this place.
export const LIBRARY_PLACE = '/lib/python314.zip';
// How many words come before Pyodide's own head.
const FIGURES = 5;
// What a browser runs fast from its first word on, as its own compilers for JavaScript do not:
//     (import "" "" (memory 0))
//     (func (export "") (param $at i32) (param $end i32) (param $sum i32) (result i32) (local $all i64)
//       (local.set $all (i64.extend_i32_u (local.get $sum)))
//       (block (loop
//         (br_if 1 (i32.ge_u (local.get $at) (local.get $end)))
//         (local.set $all (i64.add (i64.mul (local.get $all) (i64.const 31)) (i64.load (local.get $at))))
//         (local.set $at (i32.add (local.get $at) (i32.const 8)))
//         (br 0)))
//       (i32.wrap_i64 (i64.xor (local.get $all) (i64.shr_u (local.get $all) (i64.const 32)))))
const SUM = Uint8Array.of(
  0, 0x61, 0x73, 0x6d, 1, 0, 0, 0, 1, 8, 1, 0x60, 3, 0x7f, 0x7f, 0x7f, 1, 0x7f, 2, 6, 1, 0, 0, 2, 0, 0, 3, 2, 1, 0, 7, 4, 1, 0, 0, 0,
  0x0a, 0x37, 1, 0x35, 1, 1, 0x7e, 0x20, 2, 0xad, 0x21, 3, 2, 0x40, 3, 0x40, 0x20, 0, 0x20, 1, 0x4f, 0x0d, 1, 0x20, 3, 0x42, 31, 0x7e,
  0x20, 0, 0x29, 3, 0, 0x7c, 0x21, 3, 0x20, 0, 0x41, 8, 0x6a, 0x21, 0, 0x0c, 0, 0x0b, 0x0b, 0x20, 3, 0x20, 3, 0x42, 32, 0x88, 0x85,
  0xa7, 0x0b,
);

/**
 * Tells whether two memories are the same; not against forgery.
 * @param {WebAssembly.Memory} memory
 * @returns {(from: number, to: number, sum: number) => number} of bytes, by eights; `sum` of what came before, 0 at first
 */
export function checksum(memory) {
  const {exports} = new WebAssembly.Instance(new WebAssembly.Module(SUM), {'': {'': memory}});
  return /** @type {any} */ (exports)[''];
}

/** Writes the snapshot into memory itself: a copy of the whole of it would cost a reader as much again. */
export class Differences {
  #sent;
  #sum;
  #size;
  #runs;
  #words;
  #from;
  #start;
  /** @type {ReturnType<typeof checksum> | undefined} */
  #checksum;

  /** @param {Uint32Array} sent */
  constructor(sent) {
    const [sum, size, filled, headLength, runCount] = sent;
    const runsAt = FIGURES + headLength;
    this.#sent = sent;
    this.#sum = sum;
    this.#size = size;
    this.#runs = sent.subarray(runsAt, runsAt + 2 * runCount);
    this.#words = sent.subarray(runsAt + 2 * runCount);
    // What comes before is only ever read.
    this.#from = this.#runs[0];
    this.#start = new Uint32Array(filled - this.#from);
    /** What Pyodide reads of a snapshot before its memory. */
    this.head = new Uint8Array(sent.slice(FIGURES, runsAt).buffer);
    /** How large the memory was. */
    this.bytes = size * Uint32Array.BYTES_PER_ELEMENT;
  }

  /**
   * See what the WebAssembly brings along.
   * @param {WebAssembly.Memory} memory with nothing run yet: later it depends on the reader's language, the clock and chance
   */
  begin(memory) {
    this.#checksum = checksum(memory);
    this.#start.set(new Uint32Array(memory.buffer, this.#from * Uint32Array.BYTES_PER_ELEMENT, this.#start.length));
  }

  /**
   * Make the memory what it was in the snapshot. What is empty is left untouched, so that it takes no room.
   * @param {Uint32Array} memory
   * @param {number} used how many words, from the first, something may have been written into
   * @param {number[]} stack from which word to which no function has the stack: most was never touched, and to look
   *   for what was would take longer than all else here
   * @returns {boolean} whether it is what was sent: it is not where the WebAssembly is another
   */
  restore(memory, used, [deepest, top]) {
    const filled = this.#from + this.#start.length;
    let [sum, at, end] = [0, 0, this.#from];
    for (let run = 0; run < this.#runs.length; run += 2) {
      const [from, length] = this.#runs.subarray(run);
      this.#clear(memory, end, Math.min(from, used, deepest));
      this.#clear(memory, Math.max(end, top), Math.min(from, used));
      end = from + length;
      memory.set(this.#words.subarray(at, (at += length)), from);
      for (let i = from; i < end && i < filled; i++) memory[i] ^= this.#start[i - this.#from];
      sum = this.#checksum?.(from * memory.BYTES_PER_ELEMENT, end * memory.BYTES_PER_ELEMENT, sum) ?? 0;
    }
    this.#clear(memory, end, Math.min(this.#size, used));
    return sum >>> 0 === this.#sum;
  }

  /**
   * @param {Uint32Array} memory
   * @param {number} from
   * @param {number} to
   */
  #clear(memory, from, to) {
    const filled = Math.min(Math.max(from, this.#from + this.#start.length), to);
    if (from < filled) memory.set(this.#start.subarray(from - this.#from, filled - this.#from), from);
    for (let i = filled; i < to; i++) if (memory[i]) memory[i] = 0;
  }

  /** Let go of it at once: the browser might keep it for minutes. */
  forget() {
    for (const {buffer} of [this.#sent, this.#start]) /** @type {any} */ (buffer).transfer?.(0);
  }
}
