// <set-writer>: a teacher writes a set, and sees it as students will.

import {LIMITS} from '../page/limits.js';
import {download} from './shared/download.js';
import {LivePart, fill} from './shared/live-part.js';
import {button} from './shared/form-part.js';
import {recall, remember} from './shared/store.js';

class SetWriter extends LivePart {
  begin() {
    this.form = /** @type {HTMLFormElement} */ (this.querySelector('form.dw-form'));
    this.text = /** @type {HTMLTextAreaElement} */ (this.form.elements.namedItem('text'));
    this.starter = this.text.value;
    this.text.value = recall('set-text', this.starter);
    this.file = /** @type {HTMLInputElement} */ (this.form.elements.namedItem('file'));
    this.starterFile = this.file.value;
    this.file.value = recall('set-file', this.starterFile);
    this.text.addEventListener('input', () => this.#keep());
    this.file.addEventListener('input', () => this.#keep());
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
    if (this.text.value !== this.starter || this.#fileName !== this.starterFile) this.look();
  }

  #keep() {
    const kept = [remember('set-text', this.text.value), remember('set-file', this.file.value)];
    if (kept.includes(false)) this.say('This device keeps nothing now. Save your set as a file.', true);
  }

  /** The name under which the set is saved; its numbers are drawn from it. */
  get #fileName() {
    const name = this.file.value.trim() || this.starterFile;
    return /\.ya?ml$/i.test(name) ? name : `${name}.yml`;
  }

  get #student() {
    return /** @type {HTMLInputElement} */ (this.form.elements.namedItem('student')).value;
  }

  async look() {
    const answer = await this.ask({action: 'look', text: this.text.value, file: this.#fileName, student: this.#student});
    if (answer) fill(this.output, answer.html);
  }

  /** @param {HTMLFormElement} form */
  async #mark(form) {
    const answers = JSON.stringify(Object.fromEntries(new FormData(form)));
    const answer = await this.ask({
      action: 'mark',
      text: this.text.value,
      file: this.#fileName,
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
    this.text.focus({preventScroll: true});
    this.text.setSelectionRange(place, Math.min(start + (lines[line - 1] ?? '').length, this.text.value.length));
    this.#showLine(line);
  }

  /**
   * Bring a line into the middle of the box, and then of the window.
   * @param {number} line
   */
  #showLine(line) {
    const style = getComputedStyle(this.text);
    const above = parseFloat(style.paddingTop) + (line - 0.5) * parseFloat(style.lineHeight);
    this.text.scrollTop = above - this.text.clientHeight / 2;
    const inWindow = this.text.getBoundingClientRect().top + above - this.text.scrollTop;
    window.scrollBy({top: inWindow - window.innerHeight / 2, behavior: 'instant'});
  }

  #save() {
    download(this.text.value, this.#fileName, 'application/yaml');
    this.say(`The set is saved as ${this.#fileName}.`);
  }

  #open() {
    const picker = document.createElement('input');
    picker.type = 'file';
    picker.accept = '.yml,.yaml,text/plain';
    picker.addEventListener('change', async () => {
      const file = picker.files?.[0];
      if (!file) return;
      if (file.size > LIMITS.setFile) {
        this.say('That file is too large for a set.', true);
        return;
      }
      this.#replace(await file.text(), file.name);
    });
    picker.click();
  }

  #startAgain() {
    this.#replace(this.starter, this.starterFile);
  }

  /**
   * Replace the text in a way that the browser's own undo takes back.
   * @param {string} text
   * @param {string} name the file's name
   */
  #replace(text, name) {
    this.file.value = name;
    this.text.focus();
    this.text.select();
    if (!document.execCommand('insertText', false, text)) this.text.value = text;
    this.#keep();
    this.look();
  }
}

customElements.define('set-writer', SetWriter);
