// <dry-sample>: weights before and after the oven in, the water content out.

import {FormPart} from './shared/form-part.js';

customElements.define('dry-sample', class extends FormPart {});
