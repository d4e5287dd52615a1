// <set-writer>: a teacher writes a set, and sees it as students will.

import {download} from './download.js';
import {LivePart, fill} from './live-part.js';
import {button} from './form-part.js';
import {recall, remember} from './store.js';

class SetWriter extends LivePart {
  begin() {
    this.form = /** @type {HTMLFormElement} */ (this.querySelector('form.dw-form'));
    this.text = /** @type {HTMLTextAreaElement} */ (this.form.elements.namedItem('text'));
    this.starter = this.text.value;
    this.text.value = recall('set-text', this.starter);
    this.text.addEventListener('input', () => {
      if (!remember('set-text', this.text.value)) {
        this.say('This device keeps nothing now. Save your set as a file.', true);
      }
    });
    this.addEventListener('submit', (event) => {
      event.preventDefault();
      const form = /** @type {HTMLFormElement} */ (event.target);
      if (form === this.form) this.look();
      else this.#mark(form);
    });
    this.addEventListener('click', (event) => {
      const {line, column} = /** @type {HTMLElement} */ (event.target).dataset;
      if (line) this.#goTo(Number(line), Number(column));
    });
    const bar = document.createElement('div');
    bar.className = 'dw-buttons';
    bar.append(
      button('Save as a file', () => this.#save()),
      button('Open a file', () => this.#open()),
      button('Start again', () => this.#startAgain()),
    );
    this.form.append(bar);
    if (this.text.value !== this.starter) this.look();
  }

  get #student() {
    return /** @type {HTMLInputElement} */ (this.form.elements.namedItem('student')).value;
  }

  async look() {
    const answer = await this.ask({action: 'look', text: this.text.value, student: this.#student});
    if (answer) fill(this.output, answer.html);
  }

  /** @param {HTMLFormElement} form */
  async #mark(form) {
    const answers = JSON.stringify(Object.fromEntries(new FormData(form)));
    const answer = await this.ask({
      action: 'mark',
      text: this.text.value,
      student: this.#student,
      problem: form.dataset.problem ?? '',
      answers,
    });
    const place = form.querySelector('[data-feedback]');
    if (answer && place) fill(/** @type {HTMLElement} */ (place), answer.html);
  }

  /**
   * Put the caret where the slip is.
   * @param {number} line
   * @param {number} column
   */
  #goTo(line, column) {
    const lines = this.text.value.split('\n');
    const start = lines.slice(0, line - 1).reduce((sum, each) => sum + each.length + 1, 0);
    const place = Math.min(start + column - 1, this.text.value.length);
    this.text.focus();
    this.text.setSelectionRange(place, Math.min(start + (lines[line - 1] ?? '').length, this.text.value.length));
  }

  #save() {
    download(this.text.value, 'my-set.yml', 'application/yaml');
    this.say('The set is saved as a file.');
  }

  #open() {
    const picker = document.createElement('input');
    picker.type = 'file';
    picker.accept = '.yml,.yaml,text/plain';
    picker.addEventListener('change', async () => {
      const file = picker.files?.[0];
      if (!file) return;
      if (file.size > 200_000) {
        this.say('That file is too large for a set.', true);
        return;
      }
      this.#replace(await file.text());
    });
    picker.click();
  }

  #startAgain() {
    this.#replace(this.starter);
  }

  /**
   * Replace the text in a way that the browser's own undo takes back.
   * @param {string} text
   */
  #replace(text) {
    this.text.focus();
    this.text.select();
    if (!document.execCommand('insertText', false, text)) this.text.value = text;
    remember('set-text', this.text.value);
    this.look();
  }
}

customElements.define('set-writer', SetWriter);
