// In the head of each page, before the theme's script: that one fetches the search index, the site's
// largest text, as soon as a page opens. Here this one request waits until the reader goes to the
// search, or the page has nothing better to do.

(() => {
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

  async function wanted() {
    const asked = new Promise((resolve) => {
      addEventListener('focusin', ({target}) => /** @type {Element} */ (target).closest('.md-search') && resolve(true));
    });
    const quiet = import('./quiet-moment.js').then(({quietMoment}) => quietMoment());
    // Where that module cannot be had, search still can.
    await Promise.race([asked, quiet]).catch(() => {});
  }
})();
