// <one-swap>: so much of one liquid in place of so much of another.

import {FormPart} from './shared/form-part.js';
import {fillList} from './shared/shared-list.js';

class OneSwap extends FormPart {
  arrange() {
    fillList(/** @type {HTMLSelectElement} */ (this.form.elements.namedItem('was')));
  }
}

customElements.define('one-swap', OneSwap);
