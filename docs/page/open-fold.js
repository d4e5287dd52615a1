/** What an address names is to be read: a fold that holds it, or is headed by it, opens. */
export function openFolds() {
  addEventListener('hashchange', openNamed);
  openNamed();
}

function openNamed() {
  const named = location.hash && document.getElementById(decodeURIComponent(location.hash.slice(1)));
  const fold = named && named.closest('details.dw-section');
  if (!(fold instanceof HTMLDetailsElement) || fold.open) return;
  fold.open = true;
  named.scrollIntoView();
}
