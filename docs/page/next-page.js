// Which link may be followed next: the page's rules (docs/build/scripts.py) let the browser load its page ahead.

// In milliseconds: a pointer or a focus that goes on sooner is on its way elsewhere.
const POINTED = 80;
const FOCUSED = 150;

export function tellNextPage() {
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  let resting;
  /**
   * One link at a time: a page that was loaded for another is let go.
   * @param {Element | null} link
   * @param {number} wait
   */
  const restsOn = (link, wait) => {
    clearTimeout(resting);
    if (!link) return;
    resting = setTimeout(() => {
      for (const other of document.querySelectorAll('[data-ahead]')) other.toggleAttribute('data-ahead', other === link);
      link.setAttribute('data-ahead', '');
    }, wait);
  };
  // A finger rests on no link: there a page is loaded when the finger is down.
  document.addEventListener('pointerover', ({target, pointerType}) => {
    if (pointerType === 'mouse') restsOn(/** @type {Element} */ (target).closest('a[href]'), POINTED);
  });
  document.addEventListener('focusin', ({target}) => restsOn(/** @type {Element} */ (target).closest('a[href]:focus-visible'), FOCUSED));
}
