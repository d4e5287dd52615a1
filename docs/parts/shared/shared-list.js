/**
 * A list that is like another one of the page holds only what is chosen; before it is used, it gets the rest.
 * @param {HTMLSelectElement} list
 */
export function fillList(list) {
  const whole = document.getElementById(list.dataset.list ?? '');
  if (!(whole instanceof HTMLSelectElement)) return;
  delete list.dataset.list;
  const chosen = list.value;
  const first = [...list.options].find((option) => option.defaultSelected)?.value ?? '';
  list.replaceChildren(.../** @type {HTMLSelectElement} */ (whole.cloneNode(true)).children);
  for (const option of list.options) option.defaultSelected = option.value === first;
  list.value = chosen;
  // Where it is asked which ingredients are the reader's own.
  list.dataset.ingredients = whole.dataset.ingredients ?? '';
}
