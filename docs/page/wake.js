// Brings the page's custom elements to life: each one's definition is in the module of its name.

import {ELEMENTS} from './elements.js';

/**
 * Fetch the modules of the elements in a place.
 * @param {ParentNode} place
 */
export function wake(place) {
  for (const [name, module] of Object.entries(ELEMENTS)) {
    // Without its module an element stays as the build wrote it, and says so (style.css).
    if (place.querySelector(name)) import(module).catch(() => {});
  }
}
