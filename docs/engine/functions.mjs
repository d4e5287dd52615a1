// A WebAssembly file: what its functions use, and the same file without those that nothing can reach.
// The binary format is that of the W3C's WebAssembly Core Specification, chapter 5, with the older exceptions too.

const FUNCTION = 0;
const GLOBAL = 3;
const SECTION = {custom: 0, imports: 2, exports: 7, elements: 9, code: 10};
// The one section of a custom kind that anything reads: Pyodide's glue does.
const READ = 'dylink.0';
// No variables, and a trap: what is left of a function that cannot be reached. So the others keep their numbers.
const NOTHING = Buffer.of(3, 0, 0x00, 0x0b);

/** @typedef {{name: string, kind: number, index: number}} Exported */

/** Reads a part of the file from its start to its end. */
class Part {
  /**
   * @param {Buffer} bytes
   * @param {number} at
   * @param {number} end
   */
  constructor(bytes, at, end) {
    this.bytes = bytes;
    this.at = at;
    this.end = end;
  }

  byte() {
    return this.bytes[this.at++];
  }

  number() {
    let [number, scale] = [0, 1];
    for (;;) {
      const byte = this.byte();
      number += (byte & 127) * scale;
      if (byte < 128) return number;
      scale *= 128;
    }
  }

  /** @param {number} [many] numbers of any kind */
  skip(many = 1) {
    for (let i = 0; i < many; i++) while (this.byte() & 128);
  }

  name() {
    const length = this.number();
    return this.bytes.toString('utf8', this.at, (this.at += length));
  }

  /**
   * @template T
   * @param {() => T} read
   * @returns {T[]}
   */
  list(read) {
    return Array.from({length: this.number()}, read);
  }

  /** Where in memory something is. */
  place() {
    // With this bit it also says which memory.
    if (this.number() & 64) this.skip();
    this.skip();
  }
}

/** A WebAssembly file, taken apart as far as need be. */
export class Wasm {
  #bytes;
  /** @type {{id: number, from: number, to: number}[]} */
  #sections = [];
  /** @type {{from: number, to: number}[]} */
  #bodies = [];
  /** The functions that come from outside, in their order. @type {string[]} */
  imported = [];
  /** @type {Exported[]} */
  exported = [];
  /** The functions that may be called by their place in the table. @type {number[]} */
  table = [];

  /** @param {Buffer} bytes */
  constructor(bytes) {
    this.#bytes = bytes;
    const file = new Part(bytes, 8, bytes.length);
    while (file.at < file.end) {
      const id = file.byte();
      const size = file.number();
      this.#sections.push({id, from: file.at, to: file.at + size});
      this.#look(id, new Part(bytes, file.at, file.at + size));
      file.at += size;
    }
  }

  /**
   * @param {number} id
   * @param {Part} part
   */
  #look(id, part) {
    if (id === SECTION.imports) part.list(() => this.#import(part));
    else if (id === SECTION.exports) {
      this.exported = part.list(() => ({name: part.name(), kind: part.byte(), index: part.number()}));
    } else if (id === SECTION.elements) {
      this.table = part.list(() => elements(part)).flat();
    } else if (id === SECTION.code) {
      this.#bodies = part.list(() => {
        const size = part.number();
        part.at += size;
        return {from: part.at - size, to: part.at};
      });
    }
  }

  /** @param {Part} part */
  #import(part) {
    part.name();
    const name = part.name();
    const kind = part.byte();
    if (kind === FUNCTION) {
      this.imported.push(name);
      part.skip();
    } else if (kind === GLOBAL) {
      part.at += 2;
    } else {
      // A table or a tag says its type; a table and a memory how large they are, at most too with the lowest bit.
      if (kind !== 2) part.byte();
      if (kind === 4) part.skip();
      else part.skip(part.byte() & 1 ? 2 : 1);
    }
  }

  /**
   * @param {number} index
   * @returns {number[]} the functions that a function calls by their number
   */
  called(index) {
    const {from, to} = this.#bodies[index - this.imported.length];
    return calls(new Part(this.#bytes, from, to));
  }

  /**
   * The file with some of its functions and exports; imports, table, memory and data stay as they are.
   * @param {Set<number>} functions
   * @param {Set<string>} exported
   */
  only(functions, exported) {
    const kept = this.exported.filter(({name, kind}) => exported.has(name) || (kind !== FUNCTION && kind !== GLOBAL));
    const written = this.#sections.map(({id, from, to}) => {
      const content = this.#bytes.subarray(from, to);
      if (id === SECTION.custom && new Part(this.#bytes, from, to).name() !== READ) return [];
      if (id === SECTION.exports) return section(id, list(kept.map(exportOf)));
      if (id === SECTION.code) return section(id, list(this.#bodies.map((body, i) => this.#body(body, i, functions))));
      return section(id, content);
    });
    return Buffer.concat([this.#bytes.subarray(0, 8), ...written.flat()]);
  }

  /**
   * @param {{from: number, to: number}} body
   * @param {number} i
   * @param {Set<number>} functions
   */
  #body({from, to}, i, functions) {
    if (!functions.has(this.imported.length + i)) return NOTHING;
    return Buffer.concat([number(to - from), this.#bytes.subarray(from, to)]);
  }
}

/**
 * @param {Part} part
 * @returns {number[]}
 */
function elements(part) {
  const [kind, constant] = [part.number(), part.byte()];
  if (kind !== 0 || constant !== 0x41) throw new Error(`Elements of kind ${kind} cannot be read.`);
  part.skip(2);
  return part.list(() => part.number());
}

/** What follows each instruction, by its number. @type {Map<number, (part: Part) => void>} */
const FOLLOWS = new Map();

/**
 * @param {(part: Part) => void} read
 * @param {...(number | [number, number])} codes
 */
function follows(read, ...codes) {
  for (const each of codes) {
    const [from, to] = typeof each === 'number' ? [each, each] : each;
    for (let code = from; code <= to; code++) FOLLOWS.set(code, read);
  }
}

const [CALL, TAIL_CALL, FUNCTION_REFERENCE] = [0x10, 0x12, 0xd2];
follows(() => {}, 0x00, 0x01, 0x05, 0x0a, 0x0b, 0x0f, [0x19, 0x1b], [0x45, 0xc4], 0xd1);
follows((part) => part.skip(), [0x02, 0x04], [0x06, 0x09], 0x0c, 0x0d, 0x14, 0x15, 0x18, [0x20, 0x26], [0x3f, 0x42], 0xd0);
follows((part) => part.skip(2), 0x11, 0x13);
follows((part) => part.place(), [0x28, 0x3e]);
follows((part) => (part.at += 4), 0x43);
follows((part) => (part.at += 8), 0x44);
follows((part) => part.skip(part.number() + 1), 0x0e);
follows((part) => part.list(() => part.byte()), 0x1c);
follows((part) => {
  part.skip();
  // The first two kinds of catching name what they catch.
  part.list(() => part.skip(part.byte() < 2 ? 2 : 1));
}, 0x1f);
follows((part) => {
  const code = part.number();
  if (code >= 8) part.skip([8, 10, 12, 14].includes(code) ? 2 : 1);
}, 0xfc);
follows((part) => {
  const code = part.number();
  if (code <= 11 || (code >= 84 && code <= 93)) part.place();
  if (code === 12 || code === 13) part.at += 16;
  else if ((code >= 21 && code <= 34) || (code >= 84 && code <= 91)) part.at++;
}, 0xfd);
follows((part) => (part.number() === 3 ? part.byte() : part.place()), 0xfe);

/**
 * @param {Part} body
 * @returns {number[]}
 */
function calls(body) {
  const called = new Set();
  // The function's variables: how many, and of which type.
  body.list(() => body.skip(2));
  while (body.at < body.end) {
    const code = body.byte();
    if (code === CALL || code === TAIL_CALL || code === FUNCTION_REFERENCE) {
      called.add(body.number());
      continue;
    }
    const read = FOLLOWS.get(code);
    if (!read) throw new Error(`The instruction ${code} is not known.`);
    read(body);
  }
  if (body.at !== body.end) throw new Error('A function was read past its end.');
  return [...called];
}

/** @param {number} value */
function number(value) {
  const bytes = [];
  for (; value > 127; value = Math.floor(value / 128)) bytes.push((value % 128) | 128);
  return Buffer.from([...bytes, value]);
}

/** @param {Buffer[]} items */
function list(items) {
  return Buffer.concat([number(items.length), ...items]);
}

/**
 * @param {number} id
 * @param {Buffer} content
 */
function section(id, content) {
  return [Buffer.of(id), number(content.length), content];
}

/** @param {Exported} exported */
function exportOf({name, kind, index}) {
  const letters = Buffer.from(name);
  return Buffer.concat([number(letters.length), letters, Buffer.of(kind), number(index)]);
}
