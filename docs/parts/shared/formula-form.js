// A form with a formula and the liquid to change in it; each part that has one starts from this.

import {FormPart} from './form-part.js';
import {fillList} from './shared-list.js';

export class FormulaForm extends FormPart {
  arrange() {
    this.#showOwn();
    this.#showRows();
  }

  /** The fields for one's own water content are only there when it is chosen. */
  #showOwn() {
    this.form.classList.toggle('dw-own-chosen', this.fields().becomes === 'own');
  }

  /** One empty row of ingredients is always there; the rest wait until it is filled. */
  #showRows() {
    let empty = 0;
    for (const row of this.form.querySelectorAll('.dw-pair')) {
      const list = /** @type {HTMLSelectElement} */ (row.querySelector('select'));
      const filled = list.value !== '';
      const hidden = !filled && empty > 0;
      /** @type {HTMLElement} */ (row).hidden = hidden;
      if (!hidden) fillList(list);
      if (!filled) empty += 1;
    }
  }
}
