// Brings the page's custom elements to life: each one's definition is in the module of its name.

import {ELEMENTS} from './elements.js';

if (document.prerendering) holdDefinitions();

/**
 * A page that was loaded before its link was followed (docs/build/scripts.py). Parts read and keep what is on the
 * device, and ask Python: their modules come, but they wake when the page is seen.
 */
function holdDefinitions() {
  /** @type {Parameters<CustomElementRegistry['define']>[]} */
  const held = [];
  customElements.define = (...definition) => held.push(definition);
  document.addEventListener('prerenderingchange', () => {
    Reflect.deleteProperty(customElements, 'define');
    for (const definition of held) customElements.define(...definition);
  }, {once: true});
}

/**
 * Fetch the modules of the elements in a place.
 * @param {ParentNode} place
 */
export function wake(place) {
  for (const [name, bring] of Object.entries(ELEMENTS)) {
    // Without its module an element stays as the build wrote it, and says so (style.css).
    if (place.querySelector(name)) bring().catch(() => {});
  }
}
