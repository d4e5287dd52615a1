// <side-by-side>: a bake of several variants. The plan is in the address; what came out of the oven
// stays on this device, under the name of the bake, and goes nowhere else.

import {LIMITS} from '../page/limits.js';
import {download} from './shared/download.js';
import {button} from './shared/form-part.js';
import {FormulaForm} from './shared/formula-form.js';
import {fill} from './shared/live-part.js';
import {refill} from './shared/refill.js';
import {recall, remember, shelves} from './shared/store.js';

/** @typedef {Record<string, string>} Cells */

// Under these names, and the bake's own, the store keeps what came out, and the plan it belongs to.
const RESULTS = 'side-by-side/';
const PLANS = 'side-by-side-plan/';

/** @param {string} name */
const tidy = (name) => name.trim().replace(/\s+/g, ' ');
/** @param {string} name */
const alike = (name) => tidy(name).normalize('NFKC').toLowerCase();

class SideBySide extends FormulaForm {
  // It begins with the plan that the device keeps.
  static wakesAhead = false;

  /** Results by name of bake; the store may refuse, so they are kept here too. @type {Record<string, Cells>} */
  kept = {};
  /** @type {Record<string, string>} */
  bad = {};

  begin() {
    super.begin();
    this.addEventListener('input', (event) => this.#typed(event));
    this.addEventListener('change', (event) => this.#chosen(event));
    this.addEventListener('click', (event) => this.#pressed(event));
    this.addEventListener('submit', (event) => event.preventDefault());
    addEventListener('afterprint', () => this.#printed(), {signal: this.gone.signal});
    this.#putCells();
    this.#listKept();
    this.#fold();
    if (Object.keys(this.results).length) this.update();
  }

  arrange() {
    super.arrange();
    this.#showSlots();
  }

  /** One empty choice of liquid is always there; the rest wait until it is taken. */
  #showSlots() {
    let empty = 0;
    for (const slot of this.form.querySelectorAll('.dw-slot')) {
      const filled = /** @type {HTMLSelectElement} */ (slot.querySelector('select')).value !== '';
      /** @type {HTMLElement} */ (slot).hidden = !filled && empty > 0;
      if (!filled) empty += 1;
    }
  }

  // The results.

  /** The bake's name; spelt as it is kept, when only capitals or gaps differ: its blind codes hang on it. */
  get word() {
    const typed = tidy(this.fields().word ?? '');
    const names = this.#keptNames;
    return names.includes(typed) ? typed : names.find((name) => alike(name) === alike(typed)) ?? typed;
  }

  get shelf() {
    return RESULTS + this.word;
  }

  /** @returns {string[]} the names of the bakes with results, on this device or (where it keeps nothing) in this page */
  get #keptNames() {
    const here = Object.keys(this.kept).filter((shelf) => Object.keys(this.kept[shelf]).length);
    const found = [...shelves(RESULTS).filter((shelf) => Object.keys(recall(shelf, {})).length), ...here];
    return [...new Set(found)].map((shelf) => shelf.slice(RESULTS.length));
  }

  /** Offer the bakes that are kept, to open them again. */
  #listKept() {
    const place = /** @type {HTMLElement} */ (this.querySelector('[data-kept]'));
    const names = this.#keptNames.sort((one, other) => one.localeCompare(other));
    const open = document.activeElement;
    if (open && place.contains(open) && place.childElementCount === names.length + 1) return;
    const said = document.createElement('span');
    said.textContent = 'Bakes kept on this device:';
    place.replaceChildren(...(names.length ? [said, ...names.map((name) => button(name, () => this.#openKept(name)))] : []));
  }

  /** @param {string} name */
  async #openKept(name) {
    this.#fillForm({...recall(PLANS + name, {}), word: name});
    await this.update();
    this.#putCells();
    this.did.textContent = `“${name}” is open.`;
  }

  /** @param {Record<string, string>} values */
  #fillForm(values) {
    this.put(values);
  }

  /** @returns {Cells} */
  get results() {
    return (this.kept[this.shelf] ??= {...recall(this.shelf, {})});
  }

  /** @param {Cells} cells */
  #keep(cells) {
    const {shelf, word} = this;
    this.kept[shelf] = cells;
    if (remember(shelf, cells) && remember(PLANS + word, {...this.fields(), word})) return true;
    this.#tell('This device keeps nothing now. Save the bake as JSON before you leave the page.');
    return false;
  }

  /** @returns {NodeListOf<HTMLInputElement>} */
  get #cells() {
    return this.querySelectorAll('.dw-loaves input');
  }

  #putCells() {
    for (const box of this.#cells) box.value = this.results[box.name] ?? '';
    this.#showBad();
  }

  /** @param {Event} event */
  #typed(event) {
    const box = event.target;
    if (!(box instanceof HTMLInputElement) || !box.closest('.dw-loaves')) return;
    // Another tab may have kept more since.
    const cells = {...recall(this.shelf, this.results), [box.name]: box.value};
    if (!box.value) delete cells[box.name];
    this.#keep(cells);
    this.typed();
  }

  /** @param {Event} event */
  #chosen(event) {
    const box = event.target;
    if (box instanceof HTMLInputElement && box.type === 'file') this.#open(box);
  }

  // Asking Python.

  /** @param {Record<string, string>} fields */
  async ask(fields) {
    const answer = await super.ask({prefix: this.id || 'bake', results: JSON.stringify(this.results), ...fields, word: this.word});
    this.#showBad();
    return answer;
  }

  /** @param {Record<string, any>} answer */
  show(answer) {
    refill(this.output, answer.html);
    this.#showLoaves(answer);
    refill(/** @type {HTMLElement} */ (this.querySelector('[data-outcomes]')), answer.outcomes);
    this.bad = answer.bad;
    this.#listKept();
    this.#tell(answer.told);
    this.#showBad();
  }

  /**
   * New boxes when the plan has other loaves; else they stay, and with them the reader's place in them.
   * @param {Record<string, any>} answer
   */
  #showLoaves(answer) {
    const place = /** @type {HTMLElement} */ (this.querySelector('[data-loaves]'));
    if (place.dataset.loaves === answer.shape) return;
    place.dataset.loaves = answer.shape;
    fill(place, answer.loaves);
    this.#putCells();
    this.#fold();
  }

  /** On a phone only the first loaf is open, and the one that the reader is at. */
  #fold() {
    if (!matchMedia('(max-width: 40em)').matches) return;
    const loaves = /** @type {NodeListOf<HTMLDetailsElement>} */ (this.querySelectorAll('.dw-loaves details'));
    for (const loaf of [...loaves].slice(1)) loaf.open = loaf.contains(document.activeElement);
  }

  rested() {
    super.rested();
    this.#showBad();
  }

  #showBad() {
    if (this.rest.waits) return;
    for (const box of this.#cells) {
      const message = this.bad[box.name];
      const place = this.querySelector(`.dw-loaves [data-for="${CSS.escape(box.name)}"]`);
      if (place) place.textContent = message ?? '';
      if (message) box.setAttribute('aria-invalid', 'true');
      else box.removeAttribute('aria-invalid');
    }
  }

  /** @param {string} text */
  #tell(text) {
    const place = /** @type {HTMLElement} */ (this.querySelector('[data-told]'));
    if (place.textContent !== text) place.textContent = text;
    place.classList.toggle('dw-trouble', text !== '');
  }

  // Printing, saving, opening.

  /** @param {Event} event */
  #pressed(event) {
    const pressed = /** @type {HTMLElement} */ (event.target).closest('[data-action]');
    if (!(pressed instanceof HTMLElement)) return;
    if (pressed.dataset.action === 'print') this.#print(pressed.dataset.print ?? '');
    else if (pressed.dataset.action === 'show') this.#showAll(pressed);
    else this.#save(pressed.dataset.action ?? '');
  }

  /** @param {HTMLElement} pressed */
  #showAll(pressed) {
    pressed.closest('[data-sheet]')?.classList.add('dw-show-all');
    pressed.remove();
  }

  /** @param {string} kind */
  #print(kind) {
    for (const sheet of this.querySelectorAll('[data-sheet]')) {
      sheet.classList.toggle('dw-print-now', /** @type {HTMLElement} */ (sheet).dataset.sheet === kind);
    }
    this.classList.add('dw-printing');
    print();
  }

  #printed() {
    this.classList.remove('dw-printing');
  }

  /** @param {string} text what became of a file, beside the buttons for files */
  #tellFiles(text) {
    /** @type {HTMLElement} */ (this.querySelector('.dw-files .dw-did')).textContent = text;
  }

  /** @param {string} action */
  async #save(action) {
    const answer = await this.ask({...this.fields(), action});
    if (!answer) return;
    download(answer.file, answer.filename, action === 'json' ? undefined : 'text/csv');
    this.#tellFiles(answer.says);
  }

  /** @param {HTMLInputElement} box */
  async #open(box) {
    const file = box.files?.[0];
    if (!file) return;
    const text = file.size > LIMITS.bakeFile ? ' '.repeat(LIMITS.bakeFile + 1) : await file.text();
    const answer = await this.ask({action: 'open', file: text});
    box.value = '';
    if (!answer) return;
    this.form.reset();
    this.#fillForm(answer.plan);
    const here = Object.keys(recall(this.shelf, this.results)).length;
    const name = this.fields().word;
    if (here && !confirm(`There are results for “${name}” on this device. Put those of the file in their place?`)) {
      await this.update();
      this.#putCells();
      this.#tellFiles('The plan is open. The results on this device stay as they were.');
      return;
    }
    this.#keep(answer.results);
    this.#putCells();
    await this.update();
    this.#tellFiles(answer.says);
  }
}

customElements.define('side-by-side', SideBySide);
