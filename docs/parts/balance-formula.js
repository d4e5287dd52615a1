// <balance-formula>: a swapped formula, and what to hold beside the water.

import {FormulaForm} from './shared/formula-form.js';

customElements.define('balance-formula', class extends FormulaForm {});
