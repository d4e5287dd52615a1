// The theme opens its menus by labels of hidden boxes to tick: a mouse reaches them, a keyboard does not.
// Here each label gets a button, the menu of a narrow page keeps the focus, and tables scroll by keyboard.

const NARROW = matchMedia('(max-width: 76.234375em)');
const LABELS =
  '.md-nav--primary label:is(.md-nav__link, .md-nav__title):not([for="__drawer"]), .md-header__button:is([for="__drawer"], [for="__search"])';
const BEHIND_MENU = '.md-header, .md-content, .md-sidebar--secondary, .md-footer';
/** @type {Record<string, string>} */
const NAMES = {__drawer: 'Menu', __search: 'Search'};

export function reachThemeByKeyboard() {
  const labels = /** @type {NodeListOf<HTMLLabelElement>} */ (document.querySelectorAll(LABELS));
  for (const label of labels) addButton(label);
  const arrange = () => labels.forEach(enable);
  arrange();
  NARROW.addEventListener('change', arrange);
  document.addEventListener('change', ({target}) => {
    if (target instanceof HTMLInputElement && target.matches('.md-toggle')) toggled(target);
  });
  document.addEventListener('keydown', ({key}) => {
    const menu = /** @type {HTMLInputElement | null} */ (document.getElementById('__drawer'));
    if (key === 'Escape' && menu?.checked) menu.click();
  });
  // A letter alone is no shortcut: who speaks to the computer types letters (WCAG 2.1.4).
  addEventListener('keydown', holdLetters, {capture: true});
}

/** @param {HTMLLabelElement} label */
function addButton(label) {
  const box = /** @type {HTMLInputElement | null} */ (label.control);
  if (!box) return;
  const button = document.createElement('button');
  button.type = 'button';
  button.className = 'dw-key';
  button.setAttribute('aria-expanded', String(box.checked));
  const name = label.matches('.md-nav__title') ? `Back from ${label.textContent?.trim()}` : NAMES[box.id];
  if (name) button.setAttribute('aria-label', name);
  button.append(...label.childNodes);
  button.addEventListener('click', () => box.click());
  label.append(button);
  label.removeAttribute('tabindex');
}

/**
 * Sections are open on a wide page: there their labels are mere titles.
 * @param {HTMLLabelElement} label
 */
function enable(label) {
  const opens = NARROW.matches || (label.matches('.md-nav__link') && !label.closest('.md-nav__item')?.matches('.md-nav__item--section'));
  const button = label.querySelector('button');
  if (button) button.disabled = !opens;
}

/** @param {HTMLInputElement} box */
function toggled(box) {
  for (const label of box.labels ?? []) label.querySelector(':scope > .dw-key')?.setAttribute('aria-expanded', String(box.checked));
  if (!NARROW.matches) return;
  if (box.id === '__drawer') {
    for (const part of /** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll(BEHIND_MENU))) part.inert = box.checked;
    focusFirst(box.checked ? '.md-nav--primary :is(a, button)' : '.md-header__button[for="__drawer"] > button');
  } else if (box.matches('.md-nav__toggle')) {
    focusFirst(`.${box.checked ? 'md-nav__title' : 'md-nav__link'}[for="${box.id}"] > button`);
  }
}

/** @param {string} selector */
function focusFirst(selector) {
  const found = /** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll(selector));
  [...found].find((each) => each.checkVisibility({visibilityProperty: true}))?.focus();
}

/** @param {KeyboardEvent} event */
function holdLetters(event) {
  const {target, key} = event;
  if (key.length !== 1 || key === ' ' || event.ctrlKey || event.metaKey || event.altKey) return;
  if (target instanceof HTMLElement && !target.isContentEditable && !target.matches('input, textarea, select')) event.stopPropagation();
}

/** The theme has put each table of the text in a box that scrolls. */
export function reachTables() {
  for (const box of document.querySelectorAll('.md-typeset__scrollwrap')) {
    box.setAttribute('tabindex', '0');
    box.setAttribute('role', 'group');
    box.setAttribute('aria-label', 'Table');
  }
}
