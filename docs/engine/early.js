// In the head of each page with interactive parts, before all that takes time. An address that holds
// values wants Python's answer at once, so its worker starts while the page still loads; engine.js takes
// it over. Otherwise Python waits until the page is idle (parts/shared/live-part.js).

(() => {
  const script = /** @type {HTMLScriptElement} */ (document.currentScript);
  if (!('asks' in script.dataset) || !(location.search || location.hash.startsWith('#set='))) return;
  // From a disk no worker may start.
  if (!window.Worker || location.protocol === 'file:') return;
  const url = new URL(`${script.dataset.root}engine/worker.js`, location.href);
  // Not for a page that nobody sees yet.
  if (document.prerendering) document.addEventListener('prerenderingchange', begin, {once: true});
  else begin();

  function begin() {
    const worker = started(url);
    worker.onerror = (event) => {
      event.preventDefault();
      // The engine tries its own, and tells.
      delete window.doughwaterWorker;
    };
    ('port' in worker ? worker.port : worker).postMessage({early: true});
    window.doughwaterWorker = worker;
  }

  /**
   * The same worker that engine.js would ask for, but in a tab that gave one up: to look that up takes a browser as long
   * as to begin a worker.
   * @param {URL} url
   */
  function started(url) {
    try {
      const options = {type: 'module', name: 'python', extendedLifetime: true};
      if (window.SharedWorker) return new SharedWorker(url, /** @type {WorkerOptions} */ (options));
    } catch {
      // A browser that shares no modules.
    }
    return new Worker(url, {type: 'module', name: 'python'});
  }
})();
