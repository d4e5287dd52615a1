// Which link may be followed next: the page's rules (docs/build/scripts.py) let the browser load its page ahead.

// In milliseconds: a pointer or a focus that goes on sooner is on its way elsewhere.
const POINTED = 80;
const FOCUSED = 150;

export function tellNextPage() {
  const pointed = afterRest(POINTED);
  const focused = afterRest(FOCUSED);
  // A finger rests on no link: there a page is loaded when the finger is down.
  document.addEventListener('pointerover', ({target, pointerType}) => {
    if (pointerType === 'mouse') pointed(/** @type {Element} */ (target).closest('a[href]'));
  });
  document.addEventListener('focusin', ({target}) => focused(/** @type {Element} */ (target).closest('a[href]:focus-visible')));
}

/**
 * What hears of each link that is come upon, of pointer or focus, and marks the one on which it stays. Each has its own:
 * what scrolls away under a pointer at rest says nothing of the focus.
 * @param {number} wait
 */
function afterRest(wait) {
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  let resting;
  return (/** @type {Element | null} */ link) => {
    clearTimeout(resting);
    if (link) resting = setTimeout(() => mark(link), wait);
  };
}

/**
 * One link at a time: a page that was loaded for another is let go.
 * @param {Element} link
 */
function mark(link) {
  for (const other of document.querySelectorAll('[data-ahead]')) other.toggleAttribute('data-ahead', other === link);
  link.setAttribute('data-ahead', '');
}
