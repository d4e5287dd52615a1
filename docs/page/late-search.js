// In the head of each page, before the theme's script: that one fetches the search index, the site's
// largest text, as soon as a page opens. Here this one request waits until the reader goes to the
// search, or came with a question in the address.

(() => {
  // As the theme says when it begins, which is late (late-theme.js): nothing jumps then.
  document.documentElement.classList.replace('no-js', 'js');
  const INDEX = /\/search\/search_index\.json$/;
  const {open, send} = XMLHttpRequest.prototype;
  /** @type {WeakSet<XMLHttpRequest>} */
  const late = new WeakSet();

  XMLHttpRequest.prototype.open = function (/** @type {any[]} */ ...given) {
    if (INDEX.test(String(given[1]))) late.add(this);
    return open.apply(this, /** @type {Parameters<typeof open>} */ (given));
  };
  XMLHttpRequest.prototype.send = function (/** @type {Parameters<typeof send>} */ ...given) {
    if (late.delete(this)) wanted().then(() => send.apply(this, given));
    else send.apply(this, given);
  };

  const inSearch = (/** @type {Element | null} */ element) => Boolean(element?.closest('.md-search'));

  /** @returns {Promise<void>} */
  function wanted() {
    return new Promise((resolve) => {
      addEventListener('focusin', ({target}) => inSearch(/** @type {Element} */ (target)) && resolve());
      if (inSearch(document.activeElement) || new URLSearchParams(location.search).has('q')) resolve();
    });
  }
})();
