// <liquid-swap>: a formula and the liquid to change in it.

import {FormulaForm} from './shared/formula-form.js';

customElements.define('liquid-swap', class extends FormulaForm {});
