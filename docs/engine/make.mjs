// Runs in Node as the site is built: the standard library and our own modules as far as the page needs
// them, and a snapshot of Python's memory with them imported.
//
//     node make.mjs PYODIDE LEAN PYTHON_ZIP OUT
//
// LEAN is the folder of what lean.mjs made: the snapshot belongs to that.
//
// Two runs give the same bytes: hashes have a fixed seed, and neither clock nor chance is real.

import crypto from 'node:crypto';
import fs from 'node:fs';
import path from 'node:path';
import {pathToFileURL} from 'node:url';

import {LIBRARY_PLACE, checksum} from './differences.js';

// What is taken out here is not in Python's sys.argv, nor in the snapshot.
const [, pyodideFolder, leanFolder, pythonZip, out] = process.argv.splice(1);
const HOME = '/doughwater';

leaveNothingToChance();
const {loadPyodide} = await load(pyodideFolder, 'pyodide.mjs');
const makeModule = (await load(leanFolder, 'pyodide.asm.mjs')).default;
const lean = await prepare();
const {python, start} = await warmPython(lean);
fs.writeFileSync(path.join(out, 'snapshot'), Buffer.concat(differences(python.makeMemorySnapshot(), start)));
fs.rmSync(lean.library);
process.exit(0);

/**
 * @param {string} folder
 * @param {string} name
 */
function load(folder, name) {
  return import(pathToFileURL(path.join(folder, name)).href);
}

function leaveNothingToChance() {
  const then = Date.UTC(2020, 0, 1);
  const Real = Date;
  globalThis.Date = class extends Real {
    constructor(...parts) {
      super(...(parts.length ? parts : [then]));
    }
    static now() {
      return then;
    }
  };
  performance.now = () => 0;
  Math.random = () => 0.5;
  crypto.randomFillSync = (view) => view.fill(7);
}

/** Write the library and our own modules, trimmed, and give lean compiled copies of both, and the sets. */
async function prepare() {
  const python = await loadPyodide({indexURL: pyodideFolder + path.sep});
  python.unpackArchive(bytes(pythonZip), 'zip', {extractDir: HOME});
  python.FS.writeFile('/prepare.py', bytes(new URL('prepare.py', import.meta.url)));
  python.runPython(`
    import sys
    sys.path[:0] = ['/', '${HOME}']
    import prepare
    prepare.trim('${LIBRARY_PLACE}', '${HOME}', '/library.zip', '/ours.zip', '/sets')
    prepare.compile_all('/library.zip', '/lean-library.zip', '${LIBRARY_PLACE}')
    prepare.compile_all('/ours.zip', '/lean-ours.zip', '${HOME}')
  `);
  fs.writeFileSync(path.join(out, 'python_stdlib.zip'), python.FS.readFile('/library.zip'));
  fs.writeFileSync(path.join(out, 'python.zip'), python.FS.readFile('/ours.zip'));
  const library = path.join(out, 'lean.zip');
  fs.writeFileSync(library, python.FS.readFile('/lean-library.zip'));
  return {library, ours: python.FS.readFile('/lean-ours.zip'), sets: python.FS.readFile('/sets')};
}

/** Python with our modules imported, and its memory as it was before anything ran. */
async function warmPython({library, ours, sets}) {
  let start;
  let module;
  const {instantiate} = WebAssembly;
  WebAssembly.instantiate = async (...given) => {
    const made = await instantiate.apply(WebAssembly, given);
    // Pyodide's small helpers have no memory.
    const {memory} = made.instance?.exports ?? {};
    if (memory) start = new Uint32Array(memory.buffer.slice());
    return made;
  };
  const python = await loadPyodide({
    indexURL: leanFolder + path.sep,
    lockFileURL: path.join(pyodideFolder, 'pyodide-lock.json'),
    _makeSnapshot: true,
    stdLibURL: library,
    env: {PYTHONHASHSEED: '0', LANG: 'en_US.UTF-8'},
    createPyodideModule: async (settings) => (module = await makeModule(settings)),
  });
  python.unpackArchive(ours, 'zip', {extractDir: HOME});
  python.FS.writeFile('/sets', sets);
  python.runPython(`
    import gc, linecache, os, pickle, shutil, sys, zipimport
    sys.path.insert(0, '${HOME}')
    import docs.parts
    with open('/sets', 'rb') as sets:
        docs.parts.warm(pickle.load(sets))
    docs.parts.rehearse()
    os.remove('/sets')
    # Their files change: after a restore they are read anew.
    shutil.rmtree('${HOME}')
    sys.path_importer_cache.clear()
    zipimport._zip_directory_cache.clear()
    linecache.clearcache()
    gc.collect()
    # Later collections leave alone what is in the snapshot.
    gc.freeze()
  `);
  wipeFreeMemory(module);
  return {python, start};
}

/** Freed memory still holds what stood there; zeros compress better. */
function wipeFreeMemory(module) {
  const top = module.HEAPU32[module._emscripten_get_sbrk_ptr() >> 2];
  const taken = [];
  for (let size = 1 << 20; size >= 8; size = size > 512 ? size >> 1 : size - 8) {
    for (;;) {
      const place = module._malloc(size);
      module.HEAPU8.fill(0, place, place + size);
      taken.push(place);
      if (place + size > top) break;
    }
  }
  for (const place of taken.reverse()) module._free(place);
}

/**
 * A snapshot as the page reads it (differences.js), in four-byte words: the checksum of what is told of memory,
 * how much memory there was, how much of it the WebAssembly fills by itself, the length of Pyodide's own head, how
 * many runs there are; the head; each run's start and length; then the words of all runs. They are differences from
 * what is there anyway.
 */
function differences(snapshot, start) {
  const words = new Uint32Array(snapshot.buffer, snapshot.byteOffset, snapshot.byteLength >> 2);
  const headLength = words[1] >> 2;
  const head = words.subarray(0, headLength);
  const memory = words.subarray(headLength);
  const changed = memory.slice();
  for (let i = 0; i < start.length; i++) changed[i] ^= start[i];
  const runs = runsOf(changed);
  const told = (all) => runs.map(([from, length]) => all.subarray(from, from + length));
  const held = new WebAssembly.Memory({initial: Math.ceil(memory.byteLength / 65536)});
  new Uint32Array(held.buffer).set(memory);
  const checked = checksum(held);
  const sum = runs.reduce((sum, [from, length]) => checked(from * 4, (from + length) * 4, sum), 0);
  const filled = start.findLastIndex(Boolean) + 1;
  const figures = Uint32Array.of(sum, memory.length, filled, headLength, runs.length);
  return [figures, head, Uint32Array.from(runs.flat()), ...told(changed)].map(
    ({buffer, byteOffset, byteLength}) => new Uint8Array(buffer, byteOffset, byteLength),
  );
}

/** Where something is: starts and lengths, in whole blocks, for each run has its price too. */
function runsOf(words) {
  const block = 256;
  const runs = [];
  for (let from = 0; from < words.length; from += block) {
    const length = Math.min(block, words.length - from);
    if (!words.subarray(from, from + length).some(Boolean)) continue;
    const last = runs.at(-1);
    if (last && last[0] + last[1] === from) last[1] += length;
    else runs.push([from, length]);
  }
  return runs;
}

/** @param {string | URL} file */
function bytes(file) {
  // Pyodide does not take Node's own kind of array.
  return new Uint8Array(fs.readFileSync(file));
}
