// Files in Python's memory: a reader's own, which are read from where they are, and what is made of them.

const FOLDER = '/desk';
const IN = `${FOLDER}/in`;
const OUT = `${FOLDER}/out`;
// A page needs to know how far Python is a few times a second.
const OFTEN = 80;

export class Desk {
  #pyodide;
  #bringLibrary;

  /**
   * @param {any} pyodide
   * @param {() => Promise<boolean>} bringLibrary
   */
  constructor(pyodide, bringLibrary) {
    this.#pyodide = pyodide;
    this.#bringLibrary = bringLibrary;
  }

  /**
   * Lay a question's files where Python finds them.
   * @param {import('./engine.js').Given[]} files
   * @param {(progress: import('./engine.js').Progress) => void} heard
   * @returns {Promise<string>} the folder
   */
  async open(files, heard) {
    const {FS} = this.#pyodide;
    // What works with files needs modules that no snapshot holds.
    await this.#bringLibrary();
    for (const folder of [FOLDER, IN, OUT]) FS.mkdirTree(folder);
    FS.mount(FS.filesystems.WORKERFS, {blobs: named(files)}, IN);
    this.#hear(seldom(heard));
    return FOLDER;
  }

  /**
   * @param {string[]} names of files that Python wrote
   * @returns {Record<string, Uint8Array>}
   */
  made(names) {
    return Object.fromEntries(names.map((name) => [name, this.#pyodide.FS.readFile(`${OUT}/${name}`)]));
  }

  close() {
    const {FS} = this.#pyodide;
    this.#hear(undefined);
    FS.unmount(IN);
    this.#pyodide.runPython(`import shutil; shutil.rmtree('${OUT}')`);
  }

  /** @param {((done: number, whole: number, words: string) => void) | undefined} heard */
  #hear(heard) {
    this.#pyodide.pyimport('docs.parts.shared.desk_files').hear(heard);
  }
}

/**
 * Paths that lead nowhere else, no two alike.
 * @param {import('./engine.js').Given[]} files
 */
function named(files) {
  const taken = new Set();
  return files.map(({path, content}) => {
    const plain = path.split('/').filter((part) => !['', '.', '..'].includes(part)).join('/') || 'file';
    const [, start, ending] = /** @type {RegExpMatchArray} */ (plain.match(/^(.*?)(\.[^./]*)?$/s));
    let name = plain;
    for (let n = 2; taken.has(name); n++) name = `${start} (${n})${ending ?? ''}`;
    taken.add(name);
    return {name, data: content};
  });
}

/**
 * @param {(progress: import('./engine.js').Progress) => void} heard
 * @returns {(done: number, whole: number, words: string) => void}
 */
function seldom(heard) {
  let last = 0;
  return (done, whole, words) => {
    if (performance.now() - last < OFTEN) return;
    last = performance.now();
    heard({done, whole, words});
  };
}
