// Unpacks what the build packed as Zstandard (RFC 8878): a fifth smaller than what browsers unpack by themselves, and
// with this WebAssembly as quick. It comes piece by piece, so most of the work is done while the rest is on its way.

// What such a file begins with, and none of ours that is not packed.
const PACKED = 0x28;
// How much of a file is taken, and made of it, at once: what is made is a block of the format.
const [TAKEN, MADE] = [1 << 17, 1 << 17];

/**
 * @typedef {{memory: WebAssembly.Memory, malloc: (size: number) => number, ZSTD_createDCtx: () => number,
 *   ZSTD_decompressStream: (context: number, output: number, input: number) => number}} Decoder
 */

/**
 * @param {ArrayBuffer} file
 * @returns {Promise<Decoder>}
 */
export async function decoderIn(file) {
  const {instance} = await WebAssembly.instantiate(file, {env: {emscripten_notify_memory_growth() {}}});
  return /** @type {any} */ (instance.exports);
}

/**
 * What is in a file, in pieces; each is gone when the next is asked for. A host that says of the file how it is packed
 * (`Content-Encoding`) has the browser unpack it before it comes here.
 * @param {ReadableStream<Uint8Array>} file
 * @param {Promise<Decoder>} decoder
 * @returns {AsyncGenerator<Uint8Array>}
 */
export async function* unpacked(file, decoder) {
  const reader = file.getReader();
  let {done, value} = await reader.read();
  const unpacker = value?.[0] === PACKED ? new Unpacker(await decoder) : undefined;
  for (; !done && value; {done, value} = await reader.read()) {
    if (unpacker) yield* unpacker.take(value);
    else yield value;
  }
}

/**
 * @param {AsyncGenerator<Uint8Array>} pieces
 * @returns {ReadableStream<Uint8Array>}
 */
export function streamed(pieces) {
  return new ReadableStream({
    async pull(stream) {
      const {done, value} = await pieces.next();
      if (done) stream.close();
      else stream.enqueue(value.slice());
    },
  });
}

class Unpacker {
  #decoder;
  #context;
  #taken;
  #made;
  #input;
  #output;

  /** @param {Decoder} decoder */
  constructor(decoder) {
    this.#decoder = decoder;
    this.#context = decoder.ZSTD_createDCtx();
    this.#taken = decoder.malloc(TAKEN);
    this.#made = decoder.malloc(MADE);
    this.#input = decoder.malloc(3 * Uint32Array.BYTES_PER_ELEMENT);
    this.#output = decoder.malloc(3 * Uint32Array.BYTES_PER_ELEMENT);
  }

  /**
   * @param {Uint8Array} packed the next piece of the file
   * @returns {Generator<Uint8Array>}
   */
  *take(packed) {
    for (let at = 0; at < packed.length; at += TAKEN) {
      const piece = packed.subarray(at, at + TAKEN);
      new Uint8Array(this.#decoder.memory.buffer).set(piece, this.#taken);
      this.#buffer(this.#input).set([this.#taken, piece.length, 0]);
      let length;
      do {
        this.#buffer(this.#output).set([this.#made, MADE, 0]);
        // An error comes as a small negative number.
        if (this.#decoder.ZSTD_decompressStream(this.#context, this.#output, this.#input) < 0) throw new Error('A file is damaged.');
        length = this.#buffer(this.#output)[2];
        if (length) yield new Uint8Array(this.#decoder.memory.buffer, this.#made, length);
      } while (length === MADE || this.#buffer(this.#input)[2] < piece.length);
    }
  }

  /**
   * A buffer as the decoder knows it: where it is, how long, and how far it is used.
   * @param {number} place
   */
  #buffer(place) {
    return new Uint32Array(this.#decoder.memory.buffer, place, 3);
  }
}
