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
  /** It may wake in a page that nobody sees yet (page/wake.js): it keeps nothing and asks nothing until then. */
  static wakesAhead = true;

  begin() {
    const number = (/** @type {Further} */ {amount}) => Number(amount.name.replace(/\D/g, ''));
    const rows = /** @type {NodeListOf<HTMLTableRowElement>} */ (this.querySelectorAll('.dw-more'));
    /** The rows of further ingredients, in the order of their fields. */
    this.further = [...rows].map((row) => withTools(row, (act) => this.#act(row, act))).sort((one, other) => number(one) - number(other));
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
    const answered = super.typed();
    if (this.#isTool) this.#holdDough();
    return answered;
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

  /** The fields for one's own water content are only there when it is chosen. */
  #showOwn() {
    const becomes = /** @type {HTMLSelectElement | null} */ (this.form.elements.namedItem('becomes'));
    this.form.classList.toggle('dw-own-chosen', becomes?.value === 'own');
  }

  /** @returns {{flours: Further[], rest: Further[]}} flours are listed together, as bakers list them: above the liquid */
  get #listed() {
    const {options} = /** @type {HTMLSelectElement} */ (this.form.elements.namedItem('flour-kind'));
    const kinds = new Set([...options].map(({value}) => value).filter(Boolean));
    const flours = this.further.filter(({list}) => kinds.has(list.value));
    return {flours, rest: this.further.filter((each) => !flours.includes(each))};
  }

  /** One empty row is always there; the rest wait until it is filled. */
  #showRows() {
    const {flours, rest} = this.#listed;
    const focused = document.activeElement;
    placeBefore(this.querySelector('[name="was"]'), flours);
    placeBefore(this.querySelector('[data-cell="added"]'), rest);
    // A row that moves loses the focus.
    if (focused instanceof HTMLElement && focused !== document.activeElement) focused.focus({preventScroll: false});
    const first = [flours[0], rest[0]];
    let empty = 0;
    for (const each of [...flours, ...rest]) {
      const {row, said, list, amount, up} = each;
      const filled = list.value !== '' || amount.value !== '';
      const hidden = !filled && empty > 0;
      if (row.hidden !== hidden) row.hidden = said.hidden = hidden;
      row.classList.toggle('dw-unfilled', !filled);
      up.toggleAttribute('data-first', first.includes(each));
      nameTools(each);
      if (!hidden) fillList(list);
      if (!filled) empty += 1;
    }
  }

  /**
   * @param {HTMLTableRowElement} row
   * @param {'up' | 'out'} act
   */
  #act(row, act) {
    const {flours, rest} = this.#listed;
    const listed = [...flours, ...rest];
    const place = listed.findIndex((each) => each.row === row);
    const filled = listed.map(({list, amount}) => [list.value, amount.value]);
    if (act === 'out') filled.splice(place, 1);
    else filled.splice(place - 1, 2, filled[place], filled[place - 1]);
    this.further.forEach((each, number) => put(each, filled[number] ?? ['', '']));
    this.showChosen();
    this.arrange();
    const now = this.#listed;
    [...now.flours, ...now.rest][act === 'up' ? place - 1 : place].amount.focus();
    this.form.dispatchEvent(new Event('input', {bubbles: true}));
  }
}

/**
 * A row of a further ingredient: its controls and tools, and the line that is said of it.
 * @typedef {{row: HTMLTableRowElement, said: HTMLElement, list: HTMLSelectElement, amount: HTMLInputElement,
 *   up: HTMLButtonElement, out: HTMLButtonElement}} Further
 */

/**
 * Put rows, each with the line that is said of it, before another; those that are there stay untouched.
 * @param {Element | null} within something in the other row
 * @param {Further[]} rows
 */
function placeBefore(within, rows) {
  let place = /** @type {Element} */ (within?.closest('tr'));
  for (const {row, said} of [...rows].reverse()) {
    if (said.nextElementSibling !== place) place.before(row, said);
    place = row;
  }
}

/**
 * @param {Further} further
 * @param {string[]} values the ingredient and its amount
 */
function put({list, amount}, [key, text]) {
  if (key) fillList(list);
  list.value = key;
  amount.value = text;
}

/**
 * @param {HTMLTableRowElement} row
 * @param {(act: 'up' | 'out') => void} act
 * @returns {Further}
 */
function withTools(row, act) {
  const cell = document.createElement('td');
  cell.className = 'dw-tools';
  const [up, out] = /** @type {['up' | 'out', string][]} */ ([['up', '↑'], ['out', '×']]).map(([name, sign]) => {
    const made = document.createElement('button');
    made.type = 'button';
    made.textContent = sign;
    made.dataset.act = name;
    made.addEventListener('click', () => act(name));
    return made;
  });
  cell.append(up, out);
  row.append(cell);
  const list = /** @type {HTMLSelectElement} */ (row.querySelector('select'));
  const amount = /** @type {HTMLInputElement} */ (row.querySelector('td input[name]'));
  return {row, said: /** @type {HTMLElement} */ (row.nextElementSibling), list, amount, up, out};
}

/** @param {Further} further */
function nameTools({list, up, out}) {
  const ingredient = list.selectedOptions[0]?.text ?? '';
  up.setAttribute('aria-label', `Move up: ${ingredient}`);
  out.setAttribute('aria-label', `Take out: ${ingredient}`);
}
