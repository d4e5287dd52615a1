// The theme opens its menus by labels of hidden boxes to tick: a mouse reaches them, a keyboard does not.
// Here they become buttons, the menu of a narrow page keeps the focus, and tables scroll by keyboard.

const NARROW = matchMedia('(max-width: 76.234375em)');
const SWITCHES =
  '.md-nav--primary label:is(.md-nav__link, .md-nav__title):not([for="__drawer"]), .md-header__button:is([for="__drawer"], [for="__search"])';
const BEHIND_MENU = '.md-header, .md-content, .md-sidebar--secondary, .md-footer';

export function reachThemeByKeyboard() {
  const labels = /** @type {NodeListOf<HTMLLabelElement>} */ (document.querySelectorAll(SWITCHES));
  const arrange = () => labels.forEach(makeButton);
  arrange();
  NARROW.addEventListener('change', arrange);
  document.addEventListener('keydown', pressed);
  document.addEventListener('change', ({target}) => {
    if (target instanceof HTMLInputElement && target.matches('.md-toggle')) toggled(target);
  });
  // A letter alone is no shortcut: who speaks to the computer types letters (WCAG 2.1.4).
  addEventListener('keydown', holdLetters, {capture: true});
  addEventListener('load', reachTables);
}

/** @param {HTMLLabelElement} label */
function makeButton(label) {
  const box = /** @type {HTMLInputElement | null} */ (label.control);
  if (!box) return;
  const isButton = NARROW.matches || (label.matches('.md-nav__link') && !label.closest('.md-nav__item--section'));
  if (!isButton) {
    for (const name of ['role', 'tabindex', 'aria-expanded', 'aria-label']) label.removeAttribute(name);
    return;
  }
  label.setAttribute('role', 'button');
  label.tabIndex = 0;
  label.setAttribute('aria-expanded', String(box.checked));
  const name = {__drawer: 'Menu', __search: 'Search'}[box.id];
  if (name) label.setAttribute('aria-label', name);
  if (label.matches('.md-nav__title')) label.setAttribute('aria-label', `Back from ${label.textContent?.trim()}`);
}

/** @param {KeyboardEvent} event */
function pressed(event) {
  const {target, key} = event;
  if (target instanceof HTMLLabelElement && target.tabIndex === 0 && (key === 'Enter' || key === ' ')) {
    event.preventDefault();
    // The theme listens for Enter, too, and would switch back.
    event.stopPropagation();
    target.click();
  }
  const menu = /** @type {HTMLInputElement | null} */ (document.getElementById('__drawer'));
  if (key === 'Escape' && menu?.checked) menu.click();
}

/** @param {HTMLInputElement} box */
function toggled(box) {
  for (const label of /** @type {NodeListOf<HTMLLabelElement>} */ (box.labels ?? [])) {
    if (label.matches('[role="button"]')) label.setAttribute('aria-expanded', String(box.checked));
  }
  if (!NARROW.matches) return;
  if (box.id === '__drawer') {
    for (const part of /** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll(BEHIND_MENU))) part.inert = box.checked;
    focusFirst(box.checked ? '.md-nav--primary :is(a, [tabindex="0"])' : 'label.md-header__button[for="__drawer"]');
  } else if (box.matches('.md-nav__toggle')) {
    focusFirst(`label.${box.checked ? 'md-nav__title' : 'md-nav__link'}[for="${box.id}"]`);
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
function reachTables() {
  for (const box of document.querySelectorAll('.md-typeset__scrollwrap')) {
    box.setAttribute('tabindex', '0');
    box.setAttribute('role', 'group');
    box.setAttribute('aria-label', 'Table');
  }
}
