/**
 * Search for what comes without keys too: pasted, spoken, put in by a keyboard on the screen.
 * The theme's search only listens for keys.
 */
export function searchWithoutKeys() {
  const field = document.querySelector('.md-search__input');
  field?.addEventListener('input', () => field.dispatchEvent(new KeyboardEvent('keyup', {bubbles: true})));
}
