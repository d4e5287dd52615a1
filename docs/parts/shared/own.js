// The reader's own ingredients, as this device keeps them. Python checks them; here nothing is trusted.

import {LIMITS} from '../../page/limits.js';
import {recallText} from './store.js';

export const SHELF = 'ingredients';
// The name of what a link carries.
export const LINKED = 'own';

/** @returns {string} the kept ingredients as JSON text, for Python to read */
export function ownText() {
  const text = recallText(SHELF);
  return text.length > LIMITS.ownText ? '' : text;
}

/** @returns {string} the ingredients that this page's link brought along, as JSON text for Python to read */
export function linkedText() {
  const text = new URLSearchParams(location.search).get(LINKED) ?? '';
  return text.length > LIMITS.linkedText ? '' : text;
}

/** @typedef {{key: string, name: string, kind: string}} Row */

/**
 * @param {string} text
 * @returns {Row[]} what looks like an ingredient in it
 */
function rowsIn(text) {
  try {
    return JSON.parse(text || '[]').filter((/** @type {any} */ each) =>
      [each?.key, each?.name, each?.kind].every((word) => typeof word === 'string' && word !== ''));
  } catch {
    return [];
  }
}

/** @returns {Row[]} the reader's own ingredients, then what the link brought that this device does not have */
function ownIngredients() {
  const kept = rowsIn(ownText());
  return [...kept, ...rowsIn(linkedText()).filter(({key}) => !kept.some((own) => own.key === key))];
}

/** @param {string} key */
export function isOwn(key) {
  return key.startsWith(LIMITS.ownPrefix);
}

/** @returns {string[]} the chosen ingredients of this page that the table does not have, by key */
function chosen() {
  const lists = /** @type {NodeListOf<HTMLSelectElement>} */ (document.querySelectorAll('select[data-ingredients]'));
  return [...lists].map((list) => list.value).filter(isOwn);
}

/** @returns {boolean} */
export function usesOwn() {
  return chosen().length > 0;
}

/**
 * Let an address carry the chosen ingredients of the reader's own, if it has room for them.
 * @param {URL} address
 */
export function carryOwn(address) {
  const keys = chosen();
  const text = JSON.stringify(ownIngredients().filter(({key}) => keys.includes(key)));
  if (keys.length && text.length <= LIMITS.linkedText) address.searchParams.set(LINKED, text);
  else address.searchParams.delete(LINKED);
}

/**
 * Add the reader's own ingredients to every list that offers their kind.
 * @param {Element} place
 */
export function addOwnChoices(place) {
  const own = ownIngredients();
  for (const list of /** @type {NodeListOf<HTMLSelectElement>} */ (place.querySelectorAll('select[data-ingredients]'))) {
    const kinds = list.dataset.ingredients?.split(' ') ?? [];
    const fitting = own.filter(({kind}) => kinds.includes(kind));
    if (!fitting.length) continue;
    const group = document.createElement('optgroup');
    group.label = 'Your ingredients';
    group.append(...fitting.map(({key, name}) => new Option(name, key)));
    list.append(group);
  }
}
