// <dough-temperature>: a formula and how warm its parts are; how warm the liquid must be.

import {FormulaForm} from './shared/formula-form.js';

customElements.define('dough-temperature', class extends FormulaForm {});
