// <formula-shelf>: the reader's own formulas on this device. Each is kept under a key of its own, so that two tabs
// never write over each other's.

import {LIMITS} from '../page/limits.js';
import {download} from './shared/download.js';
import {button} from './shared/form-part.js';
import {FormulaForm} from './shared/formula-form.js';
import {LivePart} from './shared/live-part.js';
import {forget, pairs, recall, remember, shelves} from './shared/store.js';

const SHELF = 'formula/';

/** @typedef {{name: string, fields: Record<string, string>}} Kept */

class FormulaShelf extends LivePart {
  connectedCallback() {
    this.gone = new AbortController();
    this.says = /** @type {HTMLElement} */ (this.querySelector('[data-shelf="says"]'));
    this.status = this.says;
    this.box = /** @type {HTMLInputElement} */ (this.querySelector('[data-shelf="name"]'));
    // The key of the formula that is open here, and its text when it was opened.
    this.open = {key: '', text: ''};
    this.box.addEventListener('keydown', (event) => {
      if (event.key !== 'Enter') return;
      event.preventDefault();
      this.#keep();
    });
    // The form that the shelf is in hears of formulas, not of their names.
    for (const kind of ['input', 'change']) this.addEventListener(kind, (event) => event.stopPropagation());
    this.querySelector('[data-act="keep"]')?.addEventListener('click', () => this.#keep());
    this.querySelector('[data-act="save"]')?.addEventListener('click', () => this.#save());
    this.querySelector('input[type="file"]')?.addEventListener('change', (event) => this.#read(event));
    addEventListener('storage', () => this.#list(), {signal: this.gone.signal});
    this.#list();
  }

  /** @returns {FormulaForm} the part whose form the shelf is in */
  get host() {
    const host = [...document.querySelectorAll('.dw-part')].find((each) => each instanceof FormulaForm && each.contains(this));
    return /** @type {FormulaForm} */ (host);
  }

  /** @returns {string[]} the keys, by the formulas' names */
  get #keys() {
    return shelves(SHELF).filter((key) => kept(key)).sort((one, other) => kept(one).name.localeCompare(kept(other).name));
  }

  #list() {
    const keys = this.#keys;
    const list = /** @type {HTMLElement} */ (this.querySelector('[data-shelf="list"]'));
    const focused = list.contains(document.activeElement) ? document.activeElement?.getAttribute('data-id') : null;
    list.replaceChildren(...keys.map((key) => this.#line(key)));
    if (focused) /** @type {HTMLElement | null} */ (list.querySelector(`[data-id="${CSS.escape(focused)}"]`))?.focus();
    const summary = /** @type {HTMLElement} */ (this.querySelector('summary'));
    summary.textContent = keys.length ? `My formulas (${keys.length})` : 'My formulas';
  }

  /** @param {string} key */
  #line(key) {
    const {name} = kept(key);
    const line = document.createElement('li');
    const box = document.createElement('input');
    Object.assign(box, {type: 'text', value: name, maxLength: this.box.maxLength});
    box.setAttribute('aria-label', `Name of ${name}`);
    box.addEventListener('change', () => this.#rename(key, box.value));
    box.addEventListener('keydown', (event) => {
      if (event.key !== 'Enter') return;
      event.preventDefault();
      box.blur();
    });
    const acts = /** @type {[string, () => void][]} */ ([
      ['Open', () => this.#take(key)], ['Copy', () => this.#copy(key)], ['Delete', () => this.#delete(key)],
    ]);
    line.append(box, ...acts.map(([text, act]) => {
      const made = button(text, act);
      made.setAttribute('aria-label', `${text} ${name}`);
      made.dataset.id = `${text} ${key}`;
      return made;
    }));
    return line;
  }

  #keep() {
    const name = tidy(this.box.value) || 'My formula';
    const {key, text} = this.open;
    const same = key && kept(key)?.name === name;
    // What another tab made of it since stays, under its name; this one gets a new name.
    const mine = same && JSON.stringify(kept(key)) === text;
    this.#put(mine ? key : newKey(), mine ? name : this.#free(name));
  }

  /**
   * @param {string} key
   * @param {string} name
   */
  #put(key, name) {
    if (this.#keys.length >= LIMITS.formulas) return this.say(`There is room for ${LIMITS.formulas} formulas. Delete some first.`, true);
    if (!write(key, {name, fields: this.host.formula})) return this.say('This device keeps nothing now. Copy a link to the formula instead.', true);
    this.#opened(key);
    this.#list();
    this.say(`“${name}” is kept on this device.`);
  }

  /** @param {string} key */
  #opened(key) {
    this.open = {key, text: JSON.stringify(kept(key))};
    this.box.value = kept(key).name;
  }

  /** @param {string} key */
  async #take(key) {
    const {name, fields} = kept(key);
    this.#opened(key);
    await this.host.take(fields);
    this.say(`“${name}” is open. “Undo” brings back what was here.`);
  }

  /** @param {string} key */
  #copy(key) {
    const {name, fields} = kept(key);
    const free = this.#free(name);
    write(newKey(), {name: free, fields});
    this.#list();
    this.say(`“${free}” is a copy of “${name}”.`);
  }

  /**
   * @param {string} key
   * @param {string} typed
   */
  #rename(key, typed) {
    const one = kept(key);
    const name = tidy(typed);
    if (one && name && name !== one.name) write(key, {...one, name: this.#free(name)});
    this.#list();
  }

  /** @param {string} key */
  #delete(key) {
    const one = kept(key);
    forget(key);
    this.#list();
    this.say(`“${one.name}” is deleted. `);
    const back = button('Bring it back', () => {
      write(key, one);
      this.#list();
      this.say(`“${one.name}” is here again.`);
    });
    this.says.append(back);
    back.focus();
  }

  /**
   * @param {string} name
   * @returns {string} the name, with a number where it is taken
   */
  #free(name) {
    const taken = this.#keys.map((key) => kept(key).name);
    for (let number = 1; ; number += 1) {
      const tried = number === 1 ? name : `${name.slice(0, this.box.maxLength - 6)} (${number})`;
      if (!taken.includes(tried)) return tried;
    }
  }

  async #save() {
    const answer = await this.ask({action: 'save', store: JSON.stringify(this.#keys.map(kept))});
    if (answer) download(answer.file, answer.filename);
  }

  /** @param {Event} event */
  async #read(event) {
    const input = /** @type {HTMLInputElement} */ (event.target);
    const file = input.files?.[0];
    // One letter more than Python takes is enough for it to refuse the file.
    const answer = file && await this.ask({action: 'read', file: await file.slice(0, LIMITS.formulaFile + 1).text()});
    input.value = '';
    if (!answer) return;
    const have = new Set(this.#keys.map((key) => JSON.stringify(kept(key))));
    const fresh = answer.formulas.filter((/** @type {Kept} */ one) => !have.has(JSON.stringify(one)));
    if (have.size + fresh.length > LIMITS.formulas) return this.say(`There is room for ${LIMITS.formulas} formulas. Nothing was added.`, true);
    for (const one of fresh) write(newKey(), {...one, name: this.#free(one.name)});
    this.#list();
    this.say(`${answer.says} ${fresh.length} of them are new here.`);
  }

  get refusal() {
    return '';
  }
}

/**
 * @param {string} key
 * @returns {Kept} what is kept under a key, where it has the right shape
 */
function kept(key) {
  const {name, fields} = recall(key, /** @type {any} */ ({}));
  return typeof name === 'string' && name && typeof fields === 'object' ? {name, fields: pairs(fields, 'string')} : null;
}

/**
 * @param {string} key
 * @param {Kept} one
 */
const write = (key, one) => remember(key, one);
const newKey = () => `${SHELF}${Date.now().toString(36)}${Math.random().toString(36).slice(2, 8)}`;
const tidy = (/** @type {string} */ name) => name.trim().replace(/\s+/g, ' ');

customElements.define('formula-shelf', FormulaShelf);
