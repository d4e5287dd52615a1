// A page that was loaded before it is seen, or left and come back to, learns what other pages kept meanwhile.

import {PREFIX} from '../parts/shared/store.js';

// Where one is in a lesson changes with each lesson that is opened. These show it.
const LESSON = `${PREFIX}lesson/`;
const LESSON_LISTS = 'go-on, lesson-list';

export function learnMeanwhile() {
  document.addEventListener('prerenderingchange', takeColours);
  let left = '';
  addEventListener('pagehide', () => { left = kept(); });
  addEventListener('pageshow', ({persisted}) => {
    if (!persisted) return;
    if (kept() !== left) location.reload();
    else takeColours();
  });
}

/** @returns {string} what the device keeps of ours, as far as this page may show it */
function kept() {
  try {
    const all = Object.entries(localStorage).filter(([key]) => key.startsWith(PREFIX));
    const lists = document.querySelector(LESSON_LISTS);
    return JSON.stringify(all.filter(([key]) => lists || !key.startsWith(LESSON)).sort());
  } catch {
    return '';
  }
}

/** The theme reads the choice of colours as a page loads, and hears of each change in it. */
function takeColours() {
  const choices = /** @type {NodeListOf<HTMLInputElement>} */ (document.querySelectorAll('[name="__palette"]'));
  const chosen = choices[window.__md_get?.('__palette')?.index];
  if (chosen && chosen.dataset.mdColorScheme !== document.body.dataset.mdColorScheme) chosen.click();
}
