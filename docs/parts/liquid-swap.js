// <liquid-swap>: a formula and the liquid to change in it.

import {FormulaForm} from './formula-form.js';

customElements.define('liquid-swap', class extends FormulaForm {});
