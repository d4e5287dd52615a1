// Which link may be followed next: the page's rules (docs/build/scripts.py) let the browser load its page ahead.

// A focus that goes on sooner is on its way elsewhere.
const REST = 150;

export function tellNextPage() {
  // A finger rests on no link: there a page is loaded when the finger is down.
  document.documentElement.toggleAttribute('data-points', !matchMedia('(pointer: coarse)').matches);
  document.addEventListener('focusin', ({target}) => {
    const link = /** @type {HTMLElement} */ (target);
    if (!link.matches('a[href]:focus-visible')) return;
    const timer = setTimeout(() => link.setAttribute('data-ahead', ''), REST);
    link.addEventListener('blur', () => {
      clearTimeout(timer);
      link.removeAttribute('data-ahead');
    }, {once: true});
  });
}
