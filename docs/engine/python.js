// Starts Python: from a snapshot of its memory with our modules imported, or, where that cannot be
// had, plainly. The build makes the snapshot (make.mjs) and built.js, which says what belongs together.

import {LOCK, SNAPSHOT_BYTES, VERSION} from './built.js';
import {Desk} from './desk.js';
import {Differences, LIBRARY_PLACE} from './differences.js';
import {decoderIn, streamed, unpacked} from './unpack.js';

const HOME = '/doughwater';
const FOLDER = new URL('pyodide/', import.meta.url).href;
// A zip with nothing in it: the snapshot holds what the first answers need of the library.
const EMPTY_ZIP = new Uint8Array(22);
EMPTY_ZIP.set([0x50, 0x4b, 5, 6]);

/**
 * `respond` answers one request; `bringLibrary` brings the modules and files that the snapshot has not,
 * and says whether there were any to bring; `desk` is where a question's files are; `forget` lets go
 * of what a reader wrote; `rehearse` answers for nobody.
 * @typedef {{how: 'snapshot' | 'plain', respond: (request: string) => string, bringLibrary: () => Promise<boolean>, desk: Desk, forget: () => void, rehearse: () => void}} Python
 */

/**
 * Files that were asked for before.
 * @typedef {Map<string, Promise<Response>>} Asked
 */

/** @typedef {import('./unpack.js').Decoder} Decoder */

/**
 * @param {Asked} asked
 * @returns {Promise<Decoder>} what unpacks the large files
 */
export async function decode(asked) {
  return decoderIn(await fetched('unpack.wasm', asked));
}

/**
 * @param {Promise<Decoder>} decoder
 * @param {Asked} asked
 * @returns {Promise<WebAssembly.Module>} Pyodide's code, compiled as it comes in
 */
export async function compile(decoder, asked) {
  const stream = streamed(await pieces('pyodide/pyodide.asm.wasm.zstd', decoder, asked));
  return WebAssembly.compileStreaming(new Response(stream, {headers: {'Content-Type': 'application/wasm'}}));
}

/**
 * @param {Promise<WebAssembly.Module>} compiled
 * @param {boolean | undefined} plain do not try the snapshot
 * @param {Promise<Decoder>} decoder
 * @param {Asked} asked
 * @returns {Promise<Python>}
 */
export async function startPython(compiled, plain, decoder, asked) {
  const glue = Promise.all([import('./pyodide/pyodide.js'), import('./pyodide/pyodide.asm.js')]);
  // The await reports the rejection; this only silences the warning of one that nobody handled.
  glue.catch(() => {});
  if (!plain) {
    try {
      return await restored(readSnapshot(decoder, asked), compiled, glue);
    } catch (error) {
      console.info(`Python starts without its snapshot. ${/** @type {Error} */ (error).message}`);
    }
  }
  return started(compiled, glue);
}

/**
 * @param {Promise<Decoder>} decoder
 * @param {Asked} asked
 * @returns {Promise<Differences>} from the memory that the WebAssembly brings along
 */
async function readSnapshot(decoder, asked) {
  const bytes = new Uint8Array(SNAPSHOT_BYTES);
  let at = 0;
  for await (const piece of await pieces('snapshot.zstd', decoder, asked)) {
    bytes.set(piece, at);
    at += piece.length;
  }
  if (at < bytes.length) throw new Error('The snapshot is cut short.');
  const version = new TextDecoder().decode(bytes.subarray(0, VERSION.length));
  if (version !== VERSION) throw new Error('The snapshot is of another version.');
  return new Differences(new Uint32Array(bytes.buffer, VERSION.length));
}

/**
 * @param {ReturnType<typeof readSnapshot>} reading
 * @param {Promise<WebAssembly.Module>} compiled
 * @param {Promise<any[]>} glue
 * @returns {Promise<Python>}
 */
async function restored(reading, compiled, glue) {
  const pyodide = await withSnapshot(await reading, compiled, await glue);
  pyodide.pyimport('random').seed();
  let brought = false;
  const bringLibrary = async () => {
    if (brought) return false;
    await mountLibrary(pyodide);
    return (brought = true);
  };
  return {how: 'snapshot', ...answerer(pyodide), bringLibrary, desk: new Desk(pyodide, bringLibrary)};
}

/**
 * @param {Differences} snapshot
 * @param {Promise<WebAssembly.Module>} compiled
 * @param {any[]} glue
 * @returns {Promise<any>} Pyodide
 */
async function withSnapshot(snapshot, compiled, [{loadPyodide}, {default: makeModule}]) {
  const load = () =>
    loadPyodide({
      indexURL: FOLDER,
      lockFileContents: LOCK,
      _loadSnapshot: snapshot.head,
      createPyodideModule: async (/** @type {any} */ settings) => {
        const module = await makeModule(settings);
        const used = makeRoom(snapshot.bytes, module);
        if (!snapshot.restore(module.HEAPU32, used, freeStack(module))) throw new Error('The snapshot does not belong to this engine.');
        return module;
      },
    });
  const look = (/** @type {WebAssembly.Memory} */ memory) => snapshot.begin(memory);
  try {
    const pyodide = await withFiles({'python_stdlib.zip': EMPTY_ZIP}, compiled, load, look);
    // Or Pyodide would hold on to the snapshot, which not every browser lets go of before.
    delete pyodide._api.config._loadSnapshot;
    delete pyodide._api.config.createPyodideModule;
    return pyodide;
  } finally {
    snapshot.forget();
  }
}

/**
 * Make the memory as large as the snapshot's.
 * @param {number} bytes
 * @param {any} module
 * @returns {number} how many words of it were in use: what comes after them is empty
 */
function makeRoom(bytes, module) {
  const used = module.HEAPU32[module._emscripten_get_sbrk_ptr() >> 2];
  if (module.HEAPU8.length < bytes) module._sbrk(bytes - used);
  return used / Uint32Array.BYTES_PER_ELEMENT;
}

/**
 * @param {any} module
 * @returns {number[]} from which word to which no function has the stack
 */
function freeStack(module) {
  return [module._emscripten_stack_get_end(), module._emscripten_stack_get_current()].map((place) => place / Uint32Array.BYTES_PER_ELEMENT);
}

/** @param {any} pyodide */
async function mountLibrary(pyodide) {
  const [library, ours] = await Promise.all([fetched('pyodide/python_stdlib.zip'), fetched('python.zip')]);
  pyodide.FS.writeFile(LIBRARY_PLACE, new Uint8Array(library));
  pyodide.runPython('import sys; sys.path_importer_cache.clear()');
  pyodide.unpackArchive(ours, 'zip', {extractDir: HOME});
  pyodide.runPython('sys.path_importer_cache.clear()');
}

/**
 * @param {Promise<WebAssembly.Module>} compiled
 * @param {Promise<any[]>} glue
 * @returns {Promise<Python>}
 */
async function started(compiled, glue) {
  const reading = fetched('python.zip');
  const [{loadPyodide}, {default: makeModule}] = await glue;
  const pyodide = await withFiles({}, compiled, () =>
    loadPyodide({indexURL: FOLDER, lockFileContents: LOCK, createPyodideModule: makeModule}),
  );
  pyodide.unpackArchive(await reading, 'zip', {extractDir: HOME});
  pyodide.runPython(`import sys; sys.path.insert(0, '${HOME}')`);
  const bringLibrary = async () => false;
  return {how: 'plain', ...answerer(pyodide), bringLibrary, desk: new Desk(pyodide, bringLibrary)};
}

/**
 * @param {any} pyodide
 * @returns {{respond: (request: string) => string, forget: () => void, rehearse: () => void}}
 */
function answerer(pyodide) {
  const {respond, forget, rehearse} = pyodide.pyimport('docs.parts');
  return {respond, forget, rehearse};
}

/**
 * Pyodide fetches its files itself, by name. While it loads, give it what is here already.
 * @template T
 * @param {Record<string, Uint8Array>} files
 * @param {Promise<WebAssembly.Module>} compiled
 * @param {() => Promise<T>} load
 * @param {(memory: WebAssembly.Memory) => void} [look] sees the memory before anything runs
 * @returns {Promise<T>}
 */
async function withFiles(files, compiled, load, look) {
  const {fetch} = globalThis;
  const {instantiateStreaming} = WebAssembly;
  const given = /** @type {Record<string, any>} */ ({'pyodide.asm.wasm': '', ...files});
  globalThis.fetch = async (asked, options) => {
    const name = new URL(String(asked)).pathname.split('/').at(-1) ?? '';
    return name in given ? new Response(given[name]) : fetch(asked, options);
  };
  WebAssembly.instantiateStreaming = async (_, imports) => {
    const module = await compiled;
    const instance = await WebAssembly.instantiate(module, imports);
    look?.(/** @type {WebAssembly.Memory} */ (instance.exports.memory));
    return {module, instance};
  };
  try {
    return await load();
  } finally {
    globalThis.fetch = fetch;
    WebAssembly.instantiateStreaming = instantiateStreaming;
  }
}

/**
 * @param {string} name
 * @param {Asked} [asked]
 */
async function fetched(name, asked) {
  return (await answered(name, asked?.get(name))).arrayBuffer();
}

/**
 * What is in a file that the build packed, because not every host does.
 * @param {string} name
 * @param {Promise<Decoder>} decoder
 * @param {Asked} asked
 */
async function pieces(name, decoder, asked) {
  const {body} = await answered(name, asked.get(name));
  if (!body) throw new Error(`${name} is empty.`);
  return unpacked(body, decoder);
}

/**
 * @param {string} name
 * @param {Promise<Response>} [asking] where it was asked for before
 */
async function answered(name, asking) {
  const response = await (asking ?? fetch(new URL(name, import.meta.url)));
  if (!response.ok) throw new Error(`${name}: ${response.status}`);
  return response;
}
