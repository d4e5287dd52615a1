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
    /** @type {PythonCell | null} */
    this.heir = null;
    this.around = this.parentElement?.closest('[data-output]');
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

  /** An answer may have written another cell in its place: what runs goes on there. */
  disconnectedCallback() {
    super.disconnectedCallback();
    if (this.running) queueMicrotask(() => this.#leaveTo(this.around?.querySelector('python-cell')));
  }

  /** @param {Element | null | undefined} other */
  #leaveTo(other) {
    // Where there is none, nobody could stop it.
    if (!(other instanceof PythonCell)) return this.running?.abort();
    this.heir = other;
    other.running = this.running;
    other.stopButton.hidden = false;
    other.say('Python is running the code that was here before.');
  }

  /** @param {string} code */
  async #run(code) {
    if (this.running) return;
    this.running = new AbortController();
    this.stopButton.hidden = false;
    this.say('Python is running it.');
    const answer = await this.ask({code}, {signal: this.running.signal});
    /** @type {PythonCell} */
    let cell = this;
    while (cell.heir) cell = cell.heir;
    cell.running = null;
    cell.stopButton.hidden = true;
    if (answer) cell.output.textContent = answer.text;
    if (cell !== this) cell.say(`${this.status?.textContent} It was the code of before: the numbers have changed since.`);
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
