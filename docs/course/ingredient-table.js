// The ingredient table, sorted and searched in the page. The rows and their figures are in the HTML.

import {counted} from '../page/counted.js';

/** @typedef {{find: string, by: string, order: string}} View what the reader asked to see */

class IngredientTable extends HTMLElement {
  connectedCallback() {
    this.form = /** @type {HTMLFormElement | null} */ (this.querySelector('form'));
    if (!this.form || this.rows) return;
    this.status = /** @type {HTMLElement} */ (this.querySelector('.dw-status'));
    this.body = /** @type {HTMLTableSectionElement} */ (this.querySelector('tbody'));
    this.rows = [...this.body.rows];
    this.spelt = JSON.parse(this.querySelector('table')?.dataset.spelt ?? '{}');
    this.names = new Map(this.rows.map((row) => [row, (row.dataset.names ?? '').split('|').map((name) => this.#words(name))]));
    this.heads = /** @type {HTMLTableCellElement[]} */ ([...this.querySelectorAll('thead th')]);
    for (const head of this.heads) this.#makeButton(head);
    for (const row of this.rows) foldRow(row);
    this.#makeShort();
    this.form.addEventListener('input', () => this.update());
    this.form.addEventListener('submit', (event) => event.preventDefault());
    if (this.#readAddress()) this.update();
  }

  /** @returns {View} */
  get view() {
    return /** @type {View} */ (Object.fromEntries(new FormData(this.form)));
  }

  /** Show the rows that match, in the order asked for, and say how many there are. */
  update() {
    const {find, by, order} = this.view;
    const place = this.heads.findIndex((head) => head.dataset.key === by);
    const typed = this.#words(find);
    const ranks = new Map(this.rows.map((row) => [row, rank(this.names.get(row) ?? [], typed)]));
    const asked = place < 0 ? this.rows : sorted(this.rows, place, this.heads[place].hasAttribute('data-figure'), order === 'down');
    // What the reader did not ask to sort comes in the order of how well it answers.
    this.body.append(...(place < 0 ? [...asked].sort((one, other) => (ranks.get(one) ?? 0) - (ranks.get(other) ?? 0)) : asked));
    for (const row of this.rows) row.hidden = ranks.get(row) === NO_ANSWER;
    for (const head of this.heads) {
      if (head.dataset.key !== by) head.removeAttribute('aria-sort');
      else head.setAttribute('aria-sort', order === 'down' ? 'descending' : 'ascending');
    }
    this.#writeAddress();
    this.#say(find.trim(), by);
  }

  /**
   * @param {string} find
   * @param {string} by
   */
  #say(find, by) {
    const found = this.rows.filter((row) => !row.hidden).length;
    const all = this.rows.length;
    /** @type {HTMLElement} */ (this.querySelector('.dw-empty-place')).hidden = found > 0;
    let said = find ? `${found} of ${counted(all, 'ingredient')} ${found === 1 ? 'matches' : 'match'} “${find}”.` : `${counted(all, 'ingredient')}.`;
    if (!found) said = `No ingredient matches “${find}”. Try one word of its name, or fewer letters.`;
    else if (by) said += ` Sorted by ${this.#chosen('by')}, ${this.#chosen('order')}.`;
    this.status.textContent = said;
  }

  /**
   * Words in small letters, without accents, each in one spelling and in the singular.
   * @param {string} text
   * @returns {string[]}
   */
  #words(text) {
    const plain = text.normalize('NFD').replace(/\p{M}|['’]/gu, '').toLowerCase();
    return plain.split(/[^\p{L}\p{N}]+/u).filter(Boolean).map((word) => this.spelt[singular(word)] ?? this.spelt[word] ?? singular(word));
  }

  /** A narrow page shows the first rows of what is asked for, and a button that shows all. */
  #makeShort() {
    const all = document.createElement('button');
    all.type = 'button';
    all.className = 'dw-button dw-quiet dw-rows-all';
    all.textContent = 'Show every row';
    all.addEventListener('click', () => this.classList.add('dw-every-row'));
    this.querySelector('.dw-table')?.after(all);
    if (location.hash.startsWith('#of-')) this.classList.add('dw-every-row');
  }

  /** @param {HTMLTableCellElement} head */
  #makeButton(head) {
    const made = document.createElement('button');
    made.type = 'button';
    made.append(...head.childNodes);
    made.addEventListener('click', () => this.#sortBy(head));
    head.append(made);
  }

  /**
   * A first press puts the largest figure first, or A first; another press turns it round.
   * @param {HTMLTableCellElement} head
   */
  #sortBy(head) {
    const {by, order} = this.view;
    const first = head.hasAttribute('data-figure') ? 'down' : 'up';
    const next = by === head.dataset.key ? (order === 'down' ? 'up' : 'down') : first;
    this.#control('by').value = head.dataset.key ?? '';
    this.#control('order').value = next;
    this.update();
  }

  /**
   * @param {string} name
   * @returns {HTMLInputElement | HTMLSelectElement}
   */
  #control(name) {
    return /** @type {HTMLInputElement | HTMLSelectElement} */ (this.form.elements.namedItem(name));
  }

  /**
   * @param {string} name
   * @returns {string} the words of the choice made in a list
   */
  #chosen(name) {
    return /** @type {HTMLSelectElement} */ (this.#control(name)).selectedOptions[0].text;
  }

  /** @returns {boolean} whether the address asks for anything */
  #readAddress() {
    const asked = new URLSearchParams(location.search);
    let found = false;
    for (const name of Object.keys(this.view)) {
      const control = this.#control(name);
      const value = asked.get(name);
      if (value === null) continue;
      if (control instanceof HTMLSelectElement && ![...control.options].some((each) => each.value === value)) continue;
      control.value = value;
      found = true;
    }
    return found;
  }

  #writeAddress() {
    const address = new URL(location.href);
    const {find, by, order} = this.view;
    const kept = {find: find.trim(), by, order: by && order === 'down' ? order : ''};
    for (const [name, value] of Object.entries(kept)) {
      if (value) address.searchParams.set(name, value);
      else address.searchParams.delete(name);
    }
    history.replaceState(history.state, '', address);
  }
}

/**
 * On a narrow page a row is its name and its water; a press on the name opens the rest.
 * @param {HTMLTableRowElement} row
 */
function foldRow(row) {
  const [name] = row.cells;
  const more = document.createElement('button');
  more.type = 'button';
  more.className = 'dw-row-more';
  more.textContent = 'Figures';
  more.setAttribute('aria-label', `Figures of ${name.dataset.value}`);
  const show = (/** @type {boolean} */ open) => {
    row.classList.toggle('dw-row-open', open);
    more.setAttribute('aria-expanded', String(open));
  };
  show(location.hash === `#${row.id}`);
  more.addEventListener('click', () => show(!row.classList.contains('dw-row-open')));
  name.append(more);
}

/**
 * Rows in the order of one column; what is not known comes last, whichever way round.
 * @param {HTMLTableRowElement[]} rows
 * @param {number} place
 * @param {boolean} isFigure
 * @param {boolean} down
 */
function sorted(rows, place, isFigure, down) {
  const value = (/** @type {HTMLTableRowElement} */ row) => row.cells[place].dataset.value ?? '';
  const compare = (/** @type {string} */ one, /** @type {string} */ other) =>
    isFigure ? Number(one) - Number(other) : one.localeCompare(other, 'en', {numeric: true});
  return [...rows].sort((one, other) => {
    const [a, b] = [value(one), value(other)];
    if (!a || !b) return Number(!a) - Number(!b);
    return down ? compare(b, a) : compare(a, b);
  });
}

/** The rank of a row that does not answer at all. */
const NO_ANSWER = 4;

/**
 * How well a row answers what was typed: 0 one of its names is that, 1 a name begins so, 2 a name has all the words,
 * 3 its names have. Each word typed must begin a word: "oat" finds oat drink, not goat milk.
 * @param {string[][]} names each name's words
 * @param {string[]} typed
 * @returns {number}
 */
function rank(names, typed) {
  if (!typed.length) return 0;
  const has = (/** @type {string[]} */ words) => typed.every((word) => words.some((each) => each.startsWith(word)));
  const said = typed.join(' ');
  if (names.some((words) => words.join(' ') === said)) return 0;
  if (names.some((words) => words.join(' ').startsWith(said))) return 1;
  if (names.some(has)) return 2;
  return has(names.flat()) ? 3 : NO_ANSWER;
}

/**
 * A word as it is counted: one, where there are several.
 * @param {string} word
 */
function singular(word) {
  return word.length > 3 ? word.replace(/(?<=[^aisu])(?:(?<=o)e)?s$/, '').replace(/ie$/, 'y') : word;
}

customElements.define('ingredient-table', IngredientTable);
