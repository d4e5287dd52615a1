// <acidity-and-feel>: liquids side by side, by what they usually do to a dough.

import {FormPart} from './shared/form-part.js';

customElements.define('acidity-and-feel', class extends FormPart {});
