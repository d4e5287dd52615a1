// The reader's own ingredients, as this device keeps them. Python checks them; here nothing is trusted.

import {recallText} from './store.js';

export const SHELF = 'ingredients';
// Python refuses more than this; a larger store is not worth sending.
export const LONGEST = 200_000;

/** @returns {string} the kept ingredients as JSON text, for Python to read */
export function ownText() {
  const text = recallText(SHELF);
  return text.length > LONGEST ? '' : text;
}

/** @returns {{key: string, name: string, kind: string}[]} what looks like an ingredient in the store */
function ownIngredients() {
  try {
    const kept = JSON.parse(ownText() || '[]');
    return kept.filter((/** @type {any} */ each) =>
      [each?.key, each?.name, each?.kind].every((text) => typeof text === 'string' && text !== ''));
  } catch {
    return [];
  }
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
