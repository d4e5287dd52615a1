/** When the page has nothing better to do: Python's first answer goes before what is for later. */
export async function quietMoment() {
  const root = document.documentElement;
  if (document.prerendering) await new Promise((seen) => document.addEventListener('prerenderingchange', seen, {once: true}));
  if (document.readyState !== 'complete') await new Promise((loaded) => addEventListener('load', loaded, {once: true}));
  await new Promise((idle) => (window.requestIdleCallback ?? setTimeout)(idle));
  while (root.dataset.engine === 'starting') {
    await new Promise((changed) => {
      new MutationObserver((_, observer) => {
        observer.disconnect();
        changed(null);
      }).observe(root, {attributeFilter: ['data-engine']});
    });
  }
}
