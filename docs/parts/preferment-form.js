// <preferment-form>: a whole dough taken apart into a preferment and a final dough.

import {FormulaForm} from './shared/formula-form.js';

customElements.define('preferment-form', class extends FormulaForm {});
