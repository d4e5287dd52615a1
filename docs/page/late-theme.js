// The theme's script measures the page and styles it anew several times: it waits until the page is painted, and for an
// answer that is on its way. What it works is the search, the menu's place beside the text and the like.

import {answered} from './answered.js';

/** @returns {Promise<void>} when it has run */
export async function runTheme() {
  const src = /** @type {HTMLElement | null} */ (document.querySelector('script[data-theme]'))?.dataset.theme;
  if (!src) return;
  const tellSwitch = hearSwitch();
  // What is loaded ahead is not painted before it is seen.
  if (!document.prerendering) await new Promise((painting) => requestAnimationFrame(painting));
  await answered();
  await new Promise((next) => setTimeout(next));
  const script = document.createElement('script');
  script.src = src;
  const ran = new Promise((loaded) => script.addEventListener('load', loaded));
  document.head.append(script);
  await ran;
  // For this it waits, and it passed before the script came.
  document.dispatchEvent(new Event('DOMContentLoaded'));
  tellSwitch();
}

/**
 * A reader may switch to the dark page before the theme's script is there to hear it.
 * @returns {() => void} tells it to the script
 */
function hearSwitch() {
  /** @type {HTMLInputElement | undefined} */
  let switched;
  const hear = (/** @type {Event} */ {target}) => {
    if (target instanceof HTMLInputElement && target.name === '__palette') switched = target;
  };
  document.addEventListener('change', hear);
  return () => {
    document.removeEventListener('change', hear);
    if (!switched) return;
    switched.checked = true;
    switched.dispatchEvent(new Event('change', {bubbles: true}));
  };
}
