// In the head of each page with interactive parts, before all that takes time. An address that holds
// values wants Python's answer at once, so its worker starts while the page still loads; engine.js takes
// it over. Otherwise Python waits until the page is idle (parts/shared/live-part.js).

(() => {
  // From a disk no worker may start.
  if (!location.search || !window.Worker || location.protocol === 'file:') return;
  const script = /** @type {HTMLScriptElement} */ (document.currentScript);
  const worker = new Worker(new URL('worker.js', script.src), {type: 'module', name: 'early'});
  worker.onerror = (event) => {
    event.preventDefault();
    // The engine tries its own, and tells.
    delete window.doughwaterWorker;
  };
  worker.postMessage({early: true});
  window.doughwaterWorker = worker;
})();
