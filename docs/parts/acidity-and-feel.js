// <acidity-and-feel>: liquids side by side, by what they usually do to a dough.

import {FormPart} from './form-part.js';

export class AcidityAndFeel extends FormPart {}
