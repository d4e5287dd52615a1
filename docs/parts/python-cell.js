// <python-cell>: code to change and run, in the page's own Python.

import {LivePart} from './live-part.js';

export class PythonCell extends LivePart {
  get startsEngine() {
    return false;
  }

  begin() {
    const code = /** @type {HTMLTextAreaElement} */ (this.querySelector('textarea'));
    // Tab moves on, as everywhere in the page; Control and Enter runs.
    code.addEventListener('keydown', (event) => {
      if (event.key === 'Enter' && (event.ctrlKey || event.metaKey)) this.#run(code.value);
    });
    // Typing here must not recompute the form around it.
    this.addEventListener('input', (event) => event.stopPropagation());
    this.addEventListener('submit', (event) => {
      event.preventDefault();
      event.stopPropagation();
      this.#run(code.value);
    });
  }

  /** @param {string} code */
  async #run(code) {
    const answer = await this.ask({code});
    if (answer) this.output.textContent = answer.text;
  }
}
