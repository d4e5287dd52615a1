// Where the search finds nothing: the same words with one slip of the keyboard forgiven, and what is near.

const SITE = new URL('../', import.meta.url);

/** Offer more than the theme's one line, as long as no page has the words. */
export function offerWhatIsNear() {
  const field = /** @type {HTMLInputElement | null} */ (document.querySelector('.md-search__input'));
  const told = document.querySelector('.md-search-result__meta');
  const list = document.querySelector('.md-search-result__list');
  if (!field || !told || !list) return;

  const place = document.createElement('div');
  place.className = 'dw-no-hits md-typeset';
  place.hidden = true;
  told.after(place);
  const none = JSON.parse(document.getElementById('__config')?.textContent ?? '{}').translations?.['search.result.none'];
  const isNothing = () => told.textContent?.trim() === none && !list.childElementCount;

  place.addEventListener('click', (event) => {
    if (!(/** @type {Element} */ (event.target)).closest('.dw-alike')) return;
    event.preventDefault();
    field.value = alike(field.value);
    field.focus();
    field.dispatchEvent(new KeyboardEvent('keyup', {bubbles: true}));
  });
  // What is hidden is taken out: the theme's arrow keys stop at every link.
  const look = async () => {
    place.hidden = !isNothing();
    place.replaceChildren();
    if (place.hidden) return;
    const typed = field.value;
    const {NO_HITS} = await import('./no-hits.js');
    if (!isNothing() || field.value !== typed) return;
    place.innerHTML = NO_HITS;
    for (const link of place.querySelectorAll('a')) lead(link, typed);
    if (alike(typed) !== typed) place.querySelector('p')?.after(slip());
  };
  new MutationObserver(look).observe(told, {childList: true, characterData: true, subtree: true});
  // The tool comes first in the list where a swap is asked for (search-swap.js).
  new MutationObserver(look).observe(list, {childList: true});
}

/**
 * @param {HTMLAnchorElement} link
 * @param {string} typed
 */
function lead(link, typed) {
  const page = link.dataset.site ?? '';
  link.href = new URL(page.endsWith('=') ? page + encodeURIComponent(typed.replaceAll('~', '')) : page, SITE).href;
}

/** The theme's search reads "word~" as "this word, or one spelt alike". */
function slip() {
  const offer = document.createElement('a');
  offer.className = 'dw-alike';
  offer.href = '#';
  offer.textContent = 'Search for words spelt alike';
  return offer;
}

/**
 * Short words have too many neighbours to be useful.
 * @param {string} query
 */
function alike(query) {
  return query.replace(/[\p{L}]{4,}(?![\p{L}~])/gu, '$&~');
}
