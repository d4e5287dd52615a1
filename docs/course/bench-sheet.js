// <bench-sheet>: a sheet for a demonstration, written at build time. The page adds printing it alone.

import {printAlone} from '../parts/shared/print-alone.js';

class BenchSheet extends HTMLElement {
  connectedCallback() {
    this.querySelector('button')?.addEventListener('click', () => printAlone(this));
  }
}

customElements.define('bench-sheet', BenchSheet);
