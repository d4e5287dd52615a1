// What the site is measured against: only the same Pyodide, and two numbers added.

import {loadPyodide} from './pyodide/pyodide.mjs';

const python = await loadPyodide();
/** @type {HTMLElement} */ (document.getElementById('sum')).textContent = python.runPython('f"sum: {1 + 2}"');
