// <paper-test>: a test or a ticket, written at build time. The page adds printing it alone.

import {printAlone} from '../parts/shared/print-alone.js';

class PaperTest extends HTMLElement {
  connectedCallback() {
    this.querySelector('button')?.addEventListener('click', () => printAlone(this));
  }
}

customElements.define('paper-test', PaperTest);
