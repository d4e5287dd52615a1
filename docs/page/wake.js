// Brings the page's custom elements to life: each one's definition is in the module of its name.

import {answered} from './answered.js';
import {ELEMENTS} from './elements.js';

if (document.prerendering) holdDefinitions();

/**
 * A page that was loaded before its link was followed (docs/build/scripts.py). Parts read and keep what is on the
 * device, and ask Python: their modules come, but they wake when the page is seen. A form that the address fills in
 * wakes before, where it can: then only its question is left.
 */
function holdDefinitions() {
  /** @type {Parameters<CustomElementRegistry['define']>[]} */
  const held = [];
  const {define} = customElements;
  customElements.define = (...definition) => {
    const [name, made] = definition;
    if ('wakesAhead' in made && made.wakesAhead && isAddressed(name)) define.apply(customElements, definition);
    else held.push(definition);
  };
  document.addEventListener('prerenderingchange', () => {
    Reflect.deleteProperty(customElements, 'define');
    oneByOne(held, (definition) => customElements.define(...definition));
  }, {once: true});
}

/**
 * Fetch the modules of the elements in a place.
 * @param {ParentNode} place
 */
export function wake(place) {
  const there = Object.entries(ELEMENTS).filter(([name]) => place.querySelector(name));
  // Without its module an element stays as the build wrote it, and says so (style.css).
  oneByOne(there, ([, bring]) => bring().catch(() => {}));
}

/**
 * The parts that the address holds values for ask at once. The others follow their answers, one at a time, so that an
 * answer finds the page free.
 * @template {[string, ...any]} Named
 * @param {Named[]} elements
 * @param {(element: Named) => unknown} act
 */
async function oneByOne(elements, act) {
  const asked = elements.filter(([name]) => isAddressed(name));
  if (asked.length) await Promise.all(asked.map(act));
  // An address without values asks nothing.
  const waits = location.search !== '';
  // In a page that was loaded ahead, forms that are awake ask when it is seen, after this.
  if (waits) await nextTask().then(answered);
  for (const each of elements.filter((one) => !asked.includes(one))) {
    if (waits) await nextTask();
    act(each);
  }
}

function nextTask() {
  return new Promise((next) => setTimeout(next));
}

/** @param {string} name of an element */
function isAddressed(name) {
  const fields = [...new URLSearchParams(location.search).keys()].map((key) => CSS.escape(key.split('.').at(-1) ?? ''));
  return fields.some((field) => document.querySelector(`${name} [name="${field}"]`));
}
