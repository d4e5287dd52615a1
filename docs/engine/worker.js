// Python in a worker, so that the page never freezes. It answers one JSON request at a time.

// A worker that starts with the page asks for the large files at once: the modules that unpack them are
// still to come.
const LARGE = ['pyodide/pyodide.asm.wasm.gzip', 'snapshot.gzip'];
/** @type {Map<string, Promise<Response>>} */
const asked = new Map(self.name === 'early' ? LARGE.map((name) => [name, fetch(new URL(name, import.meta.url))]) : []);
const starting = import('./python.js');
// Whoever waits for them hears of it.
for (const each of [...asked.values(), starting]) each.catch(() => {});

/**
 * @typedef {{compiled: Promise<WebAssembly.Module>, python: Promise<import('./python.js').Python>}} Begun
 * @type {Begun | undefined}
 */
let begun;

/** @param {MessageEvent} event */
onmessage = ({data}) => {
  if (data.early) begun = begin();
  else if (data.lock) start(data);
  else answer(data);
};

/**
 * @param {MessagePort} [take] where an earlier worker left its compiled code
 * @param {boolean} [plain]
 * @returns {Begun}
 */
function begin(take, plain) {
  const compiled = take ? taken(take) : starting.then(({compile}) => compile(asked));
  const python = starting.then(({startPython}) => startPython(compiled, plain, asked));
  for (const each of [compiled, python]) each.catch(() => {});
  return {compiled, python};
}

/** @param {{lock: string, leave: MessagePort, take?: MessagePort, plain: boolean}} how */
async function start({lock, leave, take, plain}) {
  showAlive(lock);
  begun ??= begin(take, plain);
  try {
    const {how} = await begun.python;
    leave.postMessage(await begun.compiled);
    postMessage({ready: true, how});
  } catch (error) {
    postMessage({error: `The calculator could not start: ${lastLine(error)}`});
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
 * The browser frees a lock when its holder is gone; so the page learns that a worker died.
 * @param {string} lock
 */
function showAlive(lock) {
  navigator.locks?.request(lock, () => {
    postMessage({alive: true});
    return new Promise(() => {});
  });
}

/** @param {{id: number, request: string, library: boolean, files?: import('./engine.js').Given[]}} question */
async function answer({id, request, library, files}) {
  const python = await begun?.python.catch(/** @returns {null} */ () => null);
  // The page has been told already.
  if (!python) return;
  // A reader's own code may import anything; without the library it runs as far as it can.
  if (library) await python.bringLibrary().catch(() => {});
  postMessage({id, began: true});
  try {
    if (files) await answerWithFiles(python, id, request, files);
    else postMessage({id, answer: await respond(python, request)});
  } catch (error) {
    const broken = !isPythons(error);
    postMessage({id, broken, error: `The calculator met something it cannot work with. ${lastLine(error)}`});
  }
}

/**
 * A question that comes with files: Python tells how far it is, and what it wrote goes along.
 * @param {import('./python.js').Python} python
 * @param {number} id
 * @param {string} request
 * @param {import('./engine.js').Given[]} files
 */
async function answerWithFiles(python, id, request, files) {
  const {fields, ...rest} = JSON.parse(request);
  const folder = await python.desk.open(files, (progress) => postMessage({id, progress}));
  try {
    const text = await respond(python, JSON.stringify({...rest, fields: {...fields, folder}}));
    const made = python.desk.made(JSON.parse(text).made ?? []);
    postMessage({id, answer: text, made}, {transfer: Object.values(made).map(({buffer}) => buffer)});
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
