import {named} from './address.js';

/** What an address names is to be read: a fold that holds it, or is headed by it, opens. */
export function openFolds() {
  addEventListener('hashchange', openNamed);
  openNamed();
}

function openNamed() {
  const place = document.getElementById(named());
  const fold = place?.closest('details.dw-section');
  if (!(fold instanceof HTMLDetailsElement) || fold.open) return;
  fold.open = true;
  place?.scrollIntoView();
}
