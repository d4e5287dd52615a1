// A form drawn anew while somebody types in it: the focus, the caret and what is unfolded stay.

import {fill} from './live-part.js';

const CONTROLS = 'input, select, textarea';

/**
 * Where both forms have the same fields, only their values are brought into step, but for the one typed in.
 * @param {HTMLElement} place
 * @param {string} html
 */
export function redraw(place, html) {
  const fresh = document.createElement('template');
  fresh.innerHTML = html;
  if (shape(place) !== shape(fresh.content)) {
    replace(place, html);
    return;
  }
  const old = controls(place);
  controls(fresh.content).forEach((control, n) => follow(old[n], control));
  const words = fresh.content.querySelectorAll('.dw-set-open');
  place.querySelectorAll('.dw-set-open').forEach((header, n) => header.replaceChildren(...words[n].childNodes));
}

/** @param {ParentNode} place @returns {HTMLInputElement[]} */
function controls(place) {
  return /** @type {HTMLInputElement[]} */ ([...place.querySelectorAll(CONTROLS)]);
}

/** @param {ParentNode} place */
function shape(place) {
  const marked = /** @type {NodeListOf<HTMLElement>} */ (place.querySelectorAll(`${CONTROLS}, [data-do]`));
  return [...marked].map((each) => `${each.id} ${each.dataset.do ?? ''} ${each.dataset.at ?? ''}`).join('\n');
}

/**
 * @param {HTMLInputElement} old
 * @param {HTMLInputElement} fresh
 */
function follow(old, fresh) {
  if (old === document.activeElement || old.dataset.addTo) return;
  if (old.type === 'checkbox' || old.type === 'radio') old.checked = fresh.checked;
  else if (old.value !== fresh.value) old.value = fresh.value;
}

/**
 * @param {HTMLElement} place
 * @param {string} html
 */
function replace(place, html) {
  const active = /** @type {HTMLInputElement | null} */ (document.activeElement);
  const held = active && place.contains(active) ? active : null;
  const caret = held && 'selectionStart' in held ? [held.selectionStart, held.selectionEnd] : null;
  const open = [...place.querySelectorAll('details[open]')].map((each) => /** @type {HTMLElement} */ (each).dataset.keep);
  fill(place, html);
  for (const each of place.querySelectorAll('details')) each.open ||= !!each.dataset.keep && open.includes(each.dataset.keep);
  if (!held) return;
  const again = /** @type {HTMLInputElement | null} */ (held.id ? document.getElementById(held.id) : place.querySelector(pressed(held)));
  again?.focus({preventScroll: true});
  if (again && caret && caret[0] !== null && again.type !== 'radio') again.setSelectionRange(caret[0], caret[1]);
}

/** @param {HTMLElement} button */
function pressed({dataset}) {
  const act = dataset.do === 'open' ? 'close' : dataset.do === 'close' ? 'open' : dataset.do ?? '';
  return `[data-do="${act}"][data-at="${CSS.escape(dataset.at ?? '')}"]`;
}
