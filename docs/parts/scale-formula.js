// <scale-formula>: a formula made for pieces, a weight or a tin.

import {FormulaForm} from './shared/formula-form.js';

class ScaleFormula extends FormulaForm {
  arrange() {
    super.arrange();
    for (const way of this.form.querySelectorAll('[data-way]')) {
      /** @type {HTMLElement} */ (way).hidden = /** @type {HTMLElement} */ (way).dataset.way !== this.fields().by;
    }
  }
}

customElements.define('scale-formula', ScaleFormula);
