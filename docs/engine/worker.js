// Python in a worker, so that the page never freezes. It answers one JSON request at a time.

import {loadPyodide} from './pyodide/pyodide.mjs';

const HOME = '/doughwater';

/** @returns {Promise<(request: string) => string>} */
async function start() {
  const bundle = fetch(new URL('python.zip', import.meta.url));
  const pyodide = await loadPyodide({indexURL: new URL('pyodide/', import.meta.url).href});
  const response = await bundle;
  if (!response.ok) throw new Error(`python.zip: ${response.status}`);
  pyodide.unpackArchive(await response.arrayBuffer(), 'zip', {extractDir: HOME});
  pyodide.runPython(`import sys; sys.path.insert(0, ${JSON.stringify(HOME)})`);
  return pyodide.pyimport('docs.parts').respond;
}

const respond = start();
respond.then(
  () => postMessage({ready: true}),
  (error) => postMessage({error: `The calculator could not start: ${error.message}`}),
);

onmessage = async ({data: {id, request}}) => {
  const answer = await respond;
  try {
    postMessage({id, answer: answer(request)});
  } catch (error) {
    postMessage({id, error: `The calculator met something it cannot work with. ${lastLine(error)}`});
  }
};

/** @param {any} error The last line of a Python traceback says what happened. */
function lastLine(error) {
  return String(error.message ?? error).trim().split('\n').at(-1);
}
