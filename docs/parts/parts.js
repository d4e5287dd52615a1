// Gives the page's custom elements their names; each one's definition stands in a file of its own.

import {LiquidSwap} from './liquid-swap.js';
import {ProblemSet} from './problem-set.js';
import {PythonCell} from './python-cell.js';

const PARTS = {
  'liquid-swap': LiquidSwap,
  'problem-set': ProblemSet,
  'python-cell': PythonCell,
};

for (const [name, part] of Object.entries(PARTS)) customElements.define(name, part);
