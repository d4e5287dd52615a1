// <own-ingredients>: a reader's own ingredients, kept on this device, saved to a file and read from one.

import {LIMITS} from '../page/limits.js';
import {download} from './shared/download.js';
import {LivePart, fill} from './shared/live-part.js';
import {SHELF, ownText} from './shared/own.js';
import {recall, remember} from './shared/store.js';

// Under this name the device keeps what the shelf is called.
const CALLED = 'shelf-name';
// What comes before a shelf in an address: after the mark, so that it is sent to nobody.
const SHARED = '#shelf=';
const ARRIVED = 'The pack’s figures are in the form. Give it a name, tick its allergens, and keep it.';

class OwnIngredients extends LivePart {
  begin() {
    this.form = /** @type {HTMLFormElement} */ (this.querySelector('form'));
    // The key of what is being changed, and what a link brought.
    this.changing = '';
    this.arrived = '';
    // What is being kept, and the last question.
    /** @type {string} */
    this.saving = '';
    /** @type {Promise<Record<string, any> | null>} */
    this.asked = Promise.resolve(null);
    this.shelf = /** @type {HTMLInputElement} */ (this.querySelector('input[name="shelf"]'));
    this.shelf.value = String(recall(CALLED, ''));
    this.shelf.addEventListener('change', () => this.#call());
    this.form.addEventListener('submit', (event) => {
      event.preventDefault();
      this.#save();
    });
    this.addEventListener('click', (event) => this.#clicked(event));
    this.querySelector('input[type="file"]')?.addEventListener('change', (event) => this.#import(event));
    addEventListener('hashchange', () => this.#arrive());
    if (this.#arrive()) return;
    const arrived = this.#readAddress();
    if (ownText()) this.#ask('list').then(() => arrived && this.say(ARRIVED));
    else if (arrived) this.say(ARRIVED);
  }

  /** @returns {boolean} whether the address brings a shelf; it is shown, and kept when the reader says so */
  #arrive() {
    if (!location.hash.startsWith(SHARED)) return false;
    try {
      this.arrived = decodeURIComponent(location.hash.slice(SHARED.length, SHARED.length + LIMITS.ownText));
    } catch {
      this.arrived = '';
    }
    this.#ask('arrive', {file: this.arrived});
    return true;
  }

  /** @param {boolean} keep */
  async #settle(keep) {
    if (!(await this.#ask(keep ? 'import' : 'list', {file: this.arrived}))) return;
    history.replaceState(history.state, '', location.pathname + location.search);
  }

  /** The shelf is called something else now. */
  #call() {
    remember(CALLED, this.shelf.value.trim());
    this.#ask('list');
  }

  async #share() {
    const answer = await this.#ask('share');
    if (!answer) return;
    const link = new URL(location.pathname, location.origin);
    link.hash = SHARED.slice(1) + encodeURIComponent(answer.link);
    try {
      await navigator.clipboard.writeText(link.href);
      this.say('The link is copied. It carries your ingredients, and nothing else of yours.');
    } catch {
      history.replaceState(history.state, '', link);
      this.say('The link is in the address bar: copy it from there.');
    }
  }

  /** @returns {boolean} whether the address held figures of a pack; the form then holds them */
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
   * @param {'list' | 'save' | 'remove' | 'import' | 'export' | 'share' | 'arrive'} action
   * @param {Record<string, string>} [more]
   */
  #ask(action, more = {}) {
    // One after the other: what is asked of Python holds what the question before has changed.
    this.asked = this.asked.then(() => this.#askNow(action, more));
    return this.asked;
  }

  /**
   * @param {string} action
   * @param {Record<string, string>} more
   */
  async #askNow(action, more) {
    const answer = await this.ask({action, store: ownText(), shelf: this.shelf.value, ...more});
    if (!answer) return null;
    fill(this.output, answer.html);
    if (answer.shelf !== undefined && answer.shelf !== this.shelf.value) {
      this.shelf.value = answer.shelf;
      remember(CALLED, answer.shelf);
    }
    if (answer.records && !remember(SHELF, answer.records)) {
      this.say('This device keeps nothing now. Save your ingredients to a file before you leave the page.', true);
    }
    return answer;
  }

  /** @returns {Record<string, string>} */
  get #written() {
    return /** @type {Record<string, string>} */ (Object.fromEntries(new FormData(this.form)));
  }

  async #save() {
    const fields = this.#written;
    const asked = JSON.stringify(fields);
    // Pressed again before Python answered.
    if (asked === this.saving) return;
    this.saving = asked;
    const kept = await this.#ask('save', this.changing ? {...fields, was: this.changing} : fields);
    this.saving = '';
    // The next one may be begun already.
    if (!kept || JSON.stringify(this.#written) !== asked) return;
    this.form.reset();
    this.changing = '';
  }

  /** @param {Event} event */
  #clicked(event) {
    const button = /** @type {HTMLElement} */ (event.target).closest('button');
    const {action, key = ''} = button?.dataset ?? {};
    if (action === 'remove') this.#ask('remove', {key});
    if (action === 'change') this.#change(key);
    if (action === 'export') this.#export();
    if (action === 'share') this.#share();
    if (action === 'keep' || action === 'leave') this.#settle(action === 'keep');
  }

  /**
   * Put an ingredient back in the form; saving it under the same name replaces it.
   * @param {string} key
   */
  #change(key) {
    const record = recall(SHELF, /** @type {any[]} */ ([])).find?.((each) => each?.key === key);
    if (!record) return;
    this.form.reset();
    this.changing = key;
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
