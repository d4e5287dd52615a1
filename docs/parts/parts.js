// Gives the page's custom elements their names; each one's definition stands in a file of its own.

import {LiquidSwap} from './liquid-swap.js';
import {ProblemSet} from './problem-set.js';

customElements.define('liquid-swap', LiquidSwap);
customElements.define('problem-set', ProblemSet);
