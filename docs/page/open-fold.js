import {named} from './address.js';

/** What an address names is to be read: a fold that holds it, or is headed by it, opens. */
export function openFolds() {
  addEventListener('hashchange', openNamed);
  openNamed();
}

/**
 * @param {Element | null} place
 * @returns {boolean} whether a fold was closed over it
 */
export function openFold(place) {
  const fold = place?.closest('details');
  if (!fold || fold.open) return false;
  fold.open = true;
  return true;
}

function openNamed() {
  const place = document.getElementById(named());
  if (openFold(place)) place?.scrollIntoView();
}
