// <own-ingredients>: a reader's own ingredients, kept on this device, saved to a file and read from one.

import {LIMITS} from '../page/limits.js';
import {download} from './shared/download.js';
import {LivePart, fill} from './shared/live-part.js';
import {SHELF, ownText} from './shared/own.js';
import {recall, remember} from './shared/store.js';

const ARRIVED = 'The pack’s figures stand in the form. Give it a name, tick its allergens, and keep it.';

class OwnIngredients extends LivePart {
  begin() {
    this.form = /** @type {HTMLFormElement} */ (this.querySelector('form'));
    this.form.addEventListener('submit', (event) => {
      event.preventDefault();
      this.#save();
    });
    this.addEventListener('click', (event) => this.#clicked(event));
    this.querySelector('input[type="file"]')?.addEventListener('change', (event) => this.#import(event));
    const arrived = this.#readAddress();
    if (ownText()) this.#ask('list').then(() => arrived && this.say(ARRIVED));
    else if (arrived) this.say(ARRIVED);
  }

  /** @returns {boolean} whether the address held figures of a pack; they then stand in the form */
  #readAddress() {
    let found = false;
    for (const [name, value] of new URLSearchParams(location.search)) {
      const control = this.form.elements.namedItem(name);
      if (!(control instanceof HTMLInputElement) || control.type !== 'text') continue;
      control.value = value;
      found = true;
    }
    if (found) /** @type {HTMLElement} */ (this.form.elements.namedItem('name')).focus();
    return found;
  }

  /**
   * @param {'list' | 'save' | 'remove' | 'import' | 'export'} action
   * @param {Record<string, string>} [more]
   */
  async #ask(action, more = {}) {
    const answer = await this.ask({action, store: ownText(), ...more});
    if (!answer) return null;
    fill(this.output, answer.html);
    if (answer.records && !remember(SHELF, answer.records)) {
      this.say('This device keeps nothing now. Save your ingredients to a file before you leave the page.', true);
    }
    return answer;
  }

  async #save() {
    const fields = /** @type {Record<string, string>} */ (Object.fromEntries(new FormData(this.form)));
    if (await this.#ask('save', fields)) this.form.reset();
  }

  /** @param {Event} event */
  #clicked(event) {
    const button = /** @type {HTMLElement} */ (event.target).closest('button');
    const {action, key = ''} = button?.dataset ?? {};
    if (action === 'remove') this.#ask('remove', {key});
    if (action === 'change') this.#change(key);
    if (action === 'export') this.#export();
  }

  /**
   * Put an ingredient back in the form; saving it under the same name replaces it.
   * @param {string} key
   */
  #change(key) {
    const record = recall(SHELF, /** @type {any[]} */ ([])).find?.((each) => each?.key === key);
    if (!record) return;
    this.form.reset();
    for (const control of this.form.elements) {
      if (control instanceof HTMLInputElement && control.type === 'checkbox') {
        const word = control.name.replace('allergen-', '');
        const said = {perishable: record.perishable, 'no-allergens': record.no_allergens}[control.name];
        control.checked = said === true || record.allergens?.includes(word) === true;
      } else if (control instanceof HTMLInputElement || control instanceof HTMLSelectElement) {
        if (control.type !== 'file' && record[control.name] !== undefined) control.value = String(record[control.name]);
      }
    }
    /** @type {HTMLElement} */ (this.form.elements.namedItem('name')).focus();
  }

  async #export() {
    const answer = await this.#ask('export');
    if (answer) download(answer.file, answer.filename);
  }

  /** @param {Event} event */
  async #import(event) {
    const input = /** @type {HTMLInputElement} */ (event.target);
    const file = input.files?.[0];
    // One letter more than Python takes is enough for it to refuse the file.
    if (file) await this.#ask('import', {file: await file.slice(0, LIMITS.ownText + 1).text()});
    input.value = '';
  }
}

customElements.define('own-ingredients', OwnIngredients);
