// Python in a worker, so that the page never freezes. It answers one JSON request at a time.
// A shared one serves the pages of a visit one after the other, each through a port of its own.

// A worker that starts with the page asks for the large files at once: the modules that unpack them are
// still to come.
const LARGE = ['unpack.wasm', 'pyodide/pyodide.asm.wasm.zstd', 'snapshot.zstd'];
/** @type {Map<string, Promise<Response>>} */
const asked = new Map(self.name.startsWith('python') ? LARGE.map((name) => [name, fetch(new URL(name, import.meta.url))]) : []);
const starting = import('./python.js');
// Not lost: who awaits one of these gets its error.
for (const each of [...asked.values(), starting]) each.catch(() => {});

/**
 * @typedef {{compiled: Promise<WebAssembly.Module>, python: Promise<import('./python.js').Python>}} Begun
 * @type {Begun | undefined}
 */
let begun;

// While a page's own worker lives it holds a lock; the browser frees it when the worker is gone. A shared one holds
// none: Firefox then keeps no page to go back to, and the worker ends with each page that is left.
const LOCK = `doughwater/worker/${Date.now()}-${Math.random()}`;
const held = new Promise((resolve) => {
  if ('onconnect' in self) return resolve(true);
  navigator.locks?.request(LOCK, () => {
    resolve(true);
    return new Promise(() => {});
  });
});

// The first answers take three times as long as later ones, which run what the browser has compiled for good meanwhile
// (Chromium: about thirty). Who is in a field, or asked once, is likely to ask: so many are practised, each so many
// milliseconds after the one before, or after a reader's question.
const PRACTICE = 40;
const [REST, PAUSE] = [20, 1000];
let answers = 0;
let practice = 0;

/** Who asks: the page, or a shared worker's port to one. @typedef {{postMessage: (message: any, options?: StructuredSerializeOptions) => void}} Asker */

/**
 * @param {any} data
 * @param {Asker} asker
 */
function hear(data, asker) {
  if (data.early) begun ??= begin();
  else if (data.start) start(data, asker);
  else if (data.soon) begun?.python.then((python) => practise(python, REST)).catch(() => {});
  else if (data.leaves) leave();
  else answer(data, asker);
}

/** A reader goes on: the next page needs the processor for itself, and goes on practising after its own question. */
function leave() {
  clearTimeout(practice);
  begun?.python.then((python) => python.forget()).catch(() => {});
}

if ('onconnect' in self) {
  self.onconnect = (/** @type {MessageEvent} */ {ports: [port]}) => {
    port.onmessage = ({data}) => hear(data, port);
  };
} else {
  onmessage = ({data}) => hear(data, self);
}

/**
 * @param {MessagePort} [take] where an earlier worker left its compiled code
 * @param {boolean} [plain]
 * @returns {Begun}
 */
function begin(take, plain) {
  const decoder = starting.then(({decode}) => decode(asked));
  const compiled = take ? taken(take) : starting.then(({compile}) => compile(decoder, asked));
  const python = starting.then(({startPython}) => startPython(compiled, plain, decoder, asked));
  for (const each of [decoder, compiled, python]) each.catch(() => {});
  return {compiled, python};
}

/**
 * @param {{leave?: MessagePort, take?: MessagePort, plain: boolean, version?: string}} how `leave` is where the code is
 *   left for the next worker; between shared ones it cannot go
 * @param {Asker} asker
 */
async function start({leave, take, plain, version}, asker) {
  begun ??= begin(take, plain);
  held.then(() => asker.postMessage({alive: LOCK}));
  try {
    if (version && version !== (await import('./built.js')).VERSION) {
      asker.postMessage({other: true});
      return;
    }
    const {how} = await begun.python;
    leave?.postMessage(await begun.compiled);
    asker.postMessage({ready: true, how});
  } catch (error) {
    asker.postMessage({error: `The calculator could not start: ${lastLine(error)}`});
    // A page that comes later may have more luck.
    if ('onconnect' in self) close();
  }
}

/**
 * What an earlier worker compiled.
 * @param {MessagePort} port
 * @returns {Promise<WebAssembly.Module>}
 */
function taken(port) {
  return new Promise((resolve) => {
    port.onmessage = ({data}) => resolve(data);
  });
}

/**
 * An answer was given, or will be asked for. A Python that goes on from page to page practises for the next one.
 * @param {import('./python.js').Python} python
 * @param {number} wait
 */
function practise(python, wait) {
  clearTimeout(practice);
  if (!('onconnect' in self) || ++answers >= PRACTICE) return;
  practice = self.setTimeout(() => {
    python.rehearse();
    practise(python, REST);
  }, wait);
}

/**
 * @param {{id: number, request: string, library: boolean, files?: import('./engine.js').Given[]}} question
 * @param {Asker} asker
 */
async function answer({id, request, library, files}, asker) {
  const python = await begun?.python.catch(/** @returns {null} */ () => null);
  // The page has been told already.
  if (!python) return;
  // A reader's own code may import anything; without the library it runs as far as it can.
  if (library) await python.bringLibrary().catch(() => {});
  asker.postMessage({id, began: true});
  try {
    if (files) await answerWithFiles(python, id, request, files, asker);
    else asker.postMessage({id, answer: await respond(python, request)});
    practise(python, PAUSE);
  } catch (error) {
    const broken = !isPythons(error);
    asker.postMessage({id, broken, error: `The calculator met something it cannot work with. ${lastLine(error)}`});
    // No page can end a shared worker: it ends itself, and each page that waits starts the next.
    if (broken && 'onconnect' in self) close();
  }
}

/**
 * A question that comes with files: Python tells how far it is, and what it wrote goes along.
 * @param {import('./python.js').Python} python
 * @param {number} id
 * @param {string} request
 * @param {import('./engine.js').Given[]} files
 * @param {Asker} asker
 */
async function answerWithFiles(python, id, request, files, asker) {
  const {fields, ...rest} = JSON.parse(request);
  const folder = await python.desk.open(files, (progress) => asker.postMessage({id, progress}));
  try {
    const text = await respond(python, JSON.stringify({...rest, fields: {...fields, folder}}));
    const made = python.desk.made(JSON.parse(text).made ?? []);
    asker.postMessage({id, answer: text, made}, {transfer: Object.values(made).map(({buffer}) => buffer)});
  } finally {
    python.desk.close();
  }
}

/**
 * @param {import('./python.js').Python} python
 * @param {string} request
 */
async function respond(python, request) {
  try {
    return python.respond(request);
  } catch (error) {
    // It may be a module or a file that only the library holds.
    if (isPythons(error) && (await python.bringLibrary())) return python.respond(request);
    throw error;
  }
}

/** @param {any} error Whether Python raised it, and goes on; anything else has ended Python. */
function isPythons(error) {
  return error.name === 'PythonError';
}

/** @param {any} error The last line of a Python traceback says what happened. */
function lastLine(error) {
  return String(error.message ?? error).trim().split('\n').at(-1);
}
