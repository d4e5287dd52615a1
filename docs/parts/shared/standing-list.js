// A list of sets that says beside each how far the student of this device is: “24 of 30 marks”.

import {counted} from '../../page/counted.js';
import {standings} from './standing.js';

export class StandingList extends HTMLElement {
  connectedCallback() {
    const found = standings();
    for (const place of this.querySelectorAll('[data-standing]')) {
      const one = found[/** @type {HTMLElement} */ (place).dataset.standing ?? ''];
      if (one) place.textContent = words(one);
    }
  }
}

/** @param {import('./standing.js').Standing} standing */
function words({earned, outOf, done, begun, of}) {
  return `${earned >= outOf ? '✓ ' : ''}${earned} of ${counted(outOf, 'mark')}, ${done} of ${of} tried${begun ? `, ${begun} begun` : ''}`;
}
