// The page's custom elements: each one's definition stands in the module of its name.

const NAMES = [
  'acidity-and-feel',
  'balance-formula',
  'bench-sheet',
  'dough-temperature',
  'dry-sample',
  'ingredient-table',
  'liquid-swap',
  'own-ingredients',
  'pack-reader',
  'problem-set',
  'python-cell',
  'scale-formula',
  'set-writer',
  'side-by-side',
  'study-plan',
];

/**
 * Bring to life what stands in a place: fetch the modules of the elements that are there.
 * @param {ParentNode} place
 */
export function wake(place) {
  for (const name of NAMES) {
    // Without its module an element stays as the build wrote it, and says so (style.css).
    if (place.querySelector(name)) import(`./${name}.js`).catch(() => {});
  }
}
