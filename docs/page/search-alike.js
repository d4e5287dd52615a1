/**
 * When the search finds nothing, offer the same words with one slip of the keyboard forgiven.
 * The theme's search reads "word~" as "this word, or one spelt alike".
 */
export function offerWordsSpeltAlike() {
  const field = /** @type {HTMLInputElement | null} */ (document.querySelector('.md-search__input'));
  const told = document.querySelector('.md-search-result__meta');
  const list = document.querySelector('.md-search-result__list');
  if (!field || !told || !list) return;

  const offer = document.createElement('a');
  offer.className = 'dw-alike';
  offer.textContent = 'Search for words spelt alike';
  offer.hidden = true;
  told.after(offer);

  offer.addEventListener('click', (event) => {
    event.preventDefault();
    field.value = alike(field.value);
    field.focus();
    field.dispatchEvent(new KeyboardEvent('keyup', {bubbles: true}));
  });
  new MutationObserver(() => {
    offer.hidden = list.childElementCount > 0 || alike(field.value) === field.value;
    // The theme's arrow keys stop at every link, hidden ones too.
    if (offer.hidden) offer.removeAttribute('href');
    else offer.href = '#';
  }).observe(told, {childList: true, characterData: true, subtree: true});
}

/**
 * Short words have too many neighbours to be useful.
 * @param {string} query
 */
function alike(query) {
  return query.replace(/[\p{L}]{4,}(?![\p{L}~])/gu, '$&~');
}
