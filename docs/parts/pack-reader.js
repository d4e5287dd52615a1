// <pack-reader>: a nutrition panel in, its water content out.

import {FormPart} from './shared/form-part.js';

class PackReader extends FormPart {
  /** Serving and sodium are on US panels only, salt on the others. */
  arrange() {
    this.form.classList.toggle('dw-us', this.fields().panel === 'us');
  }
}

customElements.define('pack-reader', PackReader);
