// <python-cell>: code to change and run, in the page's own Python.

import {playground} from '../engine/engine.js';
import {LivePart} from './shared/live-part.js';

class PythonCell extends LivePart {
  get startsEngine() {
    return false;
  }

  /** Code that never ends, or that changes our modules, must not reach the other parts. */
  get engine() {
    return playground;
  }

  begin() {
    const code = /** @type {HTMLTextAreaElement} */ (this.querySelector('textarea'));
    this.stopButton = this.#addStopButton();
    /** @type {AbortController | null} */
    this.running = null;
    // Of a cell that is gone nobody can stop what runs.
    this.gone.signal.addEventListener('abort', () => this.running?.abort());
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
    if (this.running) return;
    this.running = new AbortController();
    this.stopButton.hidden = false;
    this.say('Python is running it.');
    const answer = await this.ask({code}, {signal: this.running.signal});
    this.running = null;
    this.stopButton.hidden = true;
    if (answer) this.output.textContent = answer.text;
  }

  #addStopButton() {
    const stop = document.createElement('button');
    stop.type = 'button';
    stop.hidden = true;
    stop.className = 'dw-button dw-quiet';
    stop.textContent = 'Stop';
    stop.addEventListener('click', () => this.running?.abort());
    this.querySelector('form')?.append(stop);
    return stop;
  }
}

customElements.define('python-cell', PythonCell);
