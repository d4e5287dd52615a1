// A form whose formula is a table: rows are added, moved and taken away in their place.

import {LIMITS} from '../../page/limits.js';
import {withUnit} from './bare-number.js';
import {FormPart} from './form-part.js';
import {fillList} from './shared-list.js';
import {held, hold, pairs} from './store.js';

// The dough that this tab has in hand, from page to page.
const DOUGH = 'dough';
const SITE = new URL('../../', import.meta.url);

export class FormulaForm extends FormPart {
  begin() {
    for (const row of this.#rows) addTools(row, (act) => this.#act(row, act));
    super.begin();
  }

  /** @returns {boolean} whether this is a tool's own form; a lesson keeps its example */
  get #isTool() {
    return !this.id && LIMITS.doughPages.some((page) => new URL(page, SITE).pathname === location.pathname);
  }

  /** @returns {Record<string, string>} the formula, each amount with its unit */
  get formula() {
    const values = this.fields();
    const amounts = /^(flour|liquid|part|amount\d+)$/;
    const known = LIMITS.formulaFields.filter((name) => name in values);
    return Object.fromEntries(known.map((name) => [name, amounts.test(name) && name !== 'part' ? withUnit(values[name], values.mass ?? 'g') : values[name]]));
  }

  /**
   * Another formula in place of this one.
   * @param {Record<string, string>} formula
   */
  async take(formula) {
    const known = LIMITS.formulaFields.filter((name) => this.form.elements.namedItem(name));
    const rows = known.filter((name) => /^(with|amount)/.test(name)).map((name) => [name, '']);
    const mine = known.filter((name) => name in formula).map((name) => [name, formula[name]]);
    this.put(Object.fromEntries([...rows, ...mine]));
    await this.update();
  }

  /**
   * The dough in hand, where the address brings none.
   * @param {string[]} addressed
   */
  inHand(addressed) {
    const dough = this.#isTool ? pairs(held(DOUGH), 'string') : {};
    const brings = addressed.some((name) => /^(flour|liquid|was|with|amount)/.test(name));
    const fitting = Object.entries(dough).filter(([name]) => this.form.elements.namedItem(name) && !addressed.includes(name));
    return brings ? {} : Object.fromEntries(fitting);
  }

  typed() {
    if (this.#isTool) this.#holdDough();
    return super.typed();
  }

  /** A page's own example is no dough in hand. */
  #holdDough() {
    const formula = this.formula;
    const own = Object.entries(formula).some(([name, value]) => value !== (this.original[name] ?? ''));
    hold(DOUGH, own ? {...pairs(held(DOUGH), 'string'), ...formula} : null);
  }

  arrange() {
    this.#showOwn();
    this.#showRows();
  }

  /** @returns {HTMLTableRowElement[]} the rows of further ingredients */
  get #rows() {
    return [.../** @type {NodeListOf<HTMLTableRowElement>} */ (this.querySelectorAll('.dw-more'))];
  }

  /** @returns {HTMLTableRowElement[]} the same rows in the order of their fields */
  get #byNumber() {
    const number = (/** @type {HTMLTableRowElement} */ row) => Number(controls(row).amount.name.replace(/\D/g, ''));
    return this.#rows.sort((one, other) => number(one) - number(other));
  }

  /** The fields for one's own water content are only there when it is chosen. */
  #showOwn() {
    this.form.classList.toggle('dw-own-chosen', this.fields().becomes === 'own');
  }

  /** @param {HTMLTableRowElement} row */
  #isFlour(row) {
    const flours = /** @type {HTMLSelectElement} */ (this.form.elements.namedItem('flour-kind'));
    return [...flours.options].some(({value}) => value !== '' && value === controls(row).list.value);
  }

  /** Flours are listed together, as bakers list them: above the liquid. */
  #sortRows() {
    const liquid = /** @type {Element} */ (this.querySelector('[name="was"]')?.closest('tr'));
    const last = /** @type {Element} */ (this.querySelector('[data-cell="added"]')?.closest('tr'));
    const flours = this.#byNumber.filter((row) => this.#isFlour(row));
    const rest = this.#byNumber.filter((row) => !flours.includes(row));
    const focused = document.activeElement;
    placeBefore(liquid, flours);
    placeBefore(last, rest);
    // A row that moves loses the focus.
    if (focused instanceof HTMLElement && this.contains(focused)) focused.focus({preventScroll: false});
  }

  /** One empty row is always there; the rest wait until it is filled. */
  #showRows() {
    this.#sortRows();
    let empty = 0;
    let above = null;
    for (const row of this.#rows) {
      const {list, amount} = controls(row);
      const filled = list.value !== '' || amount.value !== '';
      const hidden = !filled && empty > 0;
      row.hidden = hidden;
      /** @type {HTMLElement} */ (row.nextElementSibling).hidden = hidden;
      row.classList.toggle('dw-unfilled', !filled);
      row.querySelector('[data-act="up"]')?.toggleAttribute('data-first', !above || this.#isFlour(above) !== this.#isFlour(row));
      above = row;
      nameTools(row, list.selectedOptions[0]?.text ?? '');
      if (!hidden) fillList(list);
      if (!filled) empty += 1;
    }
  }

  /**
   * @param {HTMLTableRowElement} row
   * @param {'up' | 'out'} act
   */
  #act(row, act) {
    const rows = this.#rows;
    const place = rows.indexOf(row);
    const filled = rows.map((each) => Object.values(controls(each)).map((control) => control.value));
    if (act === 'out') filled.splice(place, 1);
    else filled.splice(place - 1, 2, filled[place], filled[place - 1]);
    this.#byNumber.forEach((each, number) => put(each, filled[number] ?? ['', '']));
    this.showChosen();
    this.arrange();
    controls(this.#rows[act === 'up' ? place - 1 : place]).amount.focus();
    this.form.dispatchEvent(new Event('input', {bubbles: true}));
  }
}

/**
 * Put rows, each with the line that is said of it, before another; those that are there stay untouched.
 * @param {Element} place
 * @param {HTMLTableRowElement[]} rows
 */
function placeBefore(place, rows) {
  for (const row of [...rows].reverse()) {
    const said = /** @type {Element} */ (row.nextElementSibling);
    if (said.nextElementSibling !== place) place.before(row, said);
    place = row;
  }
}

/** @param {HTMLTableRowElement} row */
function controls(row) {
  const list = /** @type {HTMLSelectElement} */ (row.querySelector('select'));
  const amount = /** @type {HTMLInputElement} */ (row.querySelector('td input[name]'));
  return {list, amount};
}

/**
 * @param {HTMLTableRowElement} row
 * @param {string[]} values the ingredient and its amount
 */
function put(row, [key, text]) {
  const {list, amount} = controls(row);
  if (key) fillList(list);
  list.value = key;
  amount.value = text;
}

/**
 * @param {HTMLTableRowElement} row
 * @param {(act: 'up' | 'out') => void} act
 */
function addTools(row, act) {
  const cell = document.createElement('td');
  cell.className = 'dw-tools';
  for (const [name, sign] of /** @type {['up' | 'out', string][]} */ ([['up', '↑'], ['out', '×']])) {
    const made = document.createElement('button');
    made.type = 'button';
    made.textContent = sign;
    made.dataset.act = name;
    made.addEventListener('click', () => act(name));
    cell.append(made);
  }
  row.append(cell);
}

/**
 * @param {HTMLTableRowElement} row
 * @param {string} ingredient
 */
function nameTools(row, ingredient) {
  for (const [act, text] of [['up', 'Move up'], ['out', 'Take out']]) {
    row.querySelector(`[data-act="${act}"]`)?.setAttribute('aria-label', `${text}: ${ingredient}`);
  }
}
