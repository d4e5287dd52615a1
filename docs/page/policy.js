// Trusted Types: what may become markup or the address of a script in this page.
// It runs before every other script. Browsers without Trusted Types pass it over.

(() => {
  if (!window.trustedTypes) return;
  const site = new URL(/** @type {HTMLScriptElement} */ (document.currentScript).dataset.root ?? '', location.href).href;
  const reader = trustedTypes.createPolicy('doughwater-reader', {createHTML: (/** @type {string} */ html) => html});
  const NEVER = 'script, style, link, meta, base, iframe, frame, object, embed, applet, template, [srcdoc], [action], [formaction]';
  const ADDRESSES = ['href', 'src', 'xlink:href', 'data', 'poster', 'ping'];

  /**
   * Whether some HTML holds nothing that runs, loads or sends. It is parsed where nothing runs.
   * @param {string} html
   */
  function isHarmless(html) {
    const tree = new DOMParser().parseFromString(reader.createHTML(html), 'text/html');
    if (tree.querySelector(NEVER)) return false;
    return [...tree.querySelectorAll('*')].every((each) => [...each.attributes].every(isHarmlessAttribute));
  }

  /** @param {Attr} attribute */
  function isHarmlessAttribute({name, value}) {
    if (name.startsWith('on')) return false;
    return !ADDRESSES.includes(name) || /^(https?:|mailto:|blob:)$/.test(new URL(value, location.href).protocol);
  }

  trustedTypes.createPolicy('default', {
    // A null makes the browser refuse.
    createHTML: (/** @type {string} */ html) => (isHarmless(html) ? html : null),
    createScriptURL: (/** @type {string} */ url) => (new URL(url, location.href).href.startsWith(site) ? url : null),
  });
})();
