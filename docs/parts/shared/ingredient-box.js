// An ingredient is found by typing any of its names (the combobox pattern of ARIA). The list that the build wrote
// stays the form's field, out of sight: before this script comes, and without it, one chooses in the list.

import {fillList} from './shared-list.js';
import {recall, remember} from './store.js';

const RECENT = 'recent';
const MOST_RECENT = 8;
const MOST_FOUND = 30;
// Milliseconds, longer than the browser takes to tell of a change (tried with a screen reader in Chromium and Firefox).
const BACK_IN_THE_BOX = 150;

/** @typedef {{key: string, name: string, other: string, group: string}} Found */
/** @typedef {{NAMES: Record<string, string[]>, SPELT: Record<string, string>, IDLE: string[]}} Names */

/** @type {Promise<Names> | undefined} */
let asked;
/** @type {Names} */
const NONE = {NAMES: {}, SPELT: {}, IDLE: []};
/** Each ingredient's names, fetched when the first box is entered. */
const names = () => (asked ??= import('../../page/names.js').catch(() => NONE));

/** @returns {string[]} the ingredients that were chosen last, by key */
function recent() {
  const kept = recall(RECENT, /** @type {string[]} */ ([]));
  return Array.isArray(kept) ? kept.filter((each) => typeof each === 'string').slice(0, MOST_RECENT) : [];
}

export class IngredientBox {
  /** @param {HTMLSelectElement} list */
  constructor(list) {
    this.list = list;
    this.box = document.createElement('input');
    this.popup = document.createElement('div');
    /** @type {Found[]} */
    this.found = [];
    this.active = -1;
    this.drawings = 0;
    this.telling = 0;
    // What was typed and names nothing.
    this.unknown = '';
    this.#build();
    this.#listen();
    this.show();
  }

  #build() {
    const {list, box, popup} = this;
    const id = list.id;
    list.id = `${id}-list`;
    box.id = id;
    Object.assign(box, {type: 'text', autocomplete: 'off', spellcheck: false, placeholder: list.querySelector('option[value=""]')?.textContent ?? ''});
    for (const [name, value] of Object.entries({role: 'combobox', 'aria-expanded': 'false', 'aria-autocomplete': 'list', 'aria-controls': `${id}-found`, autocapitalize: 'none', enterkeyhint: 'done'})) box.setAttribute(name, value);
    const note = list.getAttribute('aria-describedby');
    if (note) box.setAttribute('aria-describedby', note);
    Object.assign(popup, {id: `${id}-found`, className: 'dw-found', hidden: true});
    popup.setAttribute('role', 'listbox');
    popup.setAttribute('aria-label', 'Ingredients');
    list.classList.add('dw-hidden');
    list.tabIndex = -1;
    list.setAttribute('aria-hidden', 'true');
    // Lists that copy this one look for it under its new name.
    for (const other of document.querySelectorAll(`[data-list="${CSS.escape(id)}"]`)) other.setAttribute('data-list', list.id);
    const place = document.createElement('div');
    place.className = 'dw-find';
    list.before(place);
    place.append(box, popup, list);
  }

  #listen() {
    const {box, list, popup} = this;
    list.addEventListener('change', () => this.show());
    box.addEventListener('focus', () => { names(); box.select(); });
    box.addEventListener('click', () => this.#open(''));
    box.addEventListener('input', (event) => {
      // The form hears of what is chosen, not of each letter.
      event.stopPropagation();
      this.#open(box.value);
    });
    box.addEventListener('change', (event) => event.stopPropagation());
    box.addEventListener('keydown', (event) => this.#key(event));
    box.addEventListener('blur', () => this.#leave());
    // A tap must not take the focus from the box.
    popup.addEventListener('pointerdown', (event) => event.preventDefault());
    popup.addEventListener('click', ({target}) => {
      const option = /** @type {Element} */ (target).closest('[role="option"]');
      if (option) this.#choose(this.found[Number(option.getAttribute('data-at'))]);
    });
  }

  /** The box says what is chosen. */
  show() {
    const chosen = this.list.selectedOptions[0];
    if (chosen?.value) this.unknown = '';
    this.box.value = this.unknown || (chosen?.value ? shortName(chosen) : '');
  }

  /** @param {string} typed all is offered where nothing is typed */
  async #open(typed) {
    fillList(this.list);
    const known = await names();
    if (document.activeElement !== this.box) return;
    this.found = typed.trim() ? lookUp(this.#options(), typed, known) : this.#all();
    // Where the option it is at is taken away in the moment in which another comes, a screen reader says nothing.
    this.#tell();
    this.popup.replaceChildren(...this.#drawn());
    this.popup.hidden = false;
    this.box.setAttribute('aria-expanded', 'true');
    const chosen = this.found.findIndex(({key}) => key === this.list.value);
    this.#activate(typed.trim() ? (this.found.length ? 0 : -1) : chosen, BACK_IN_THE_BOX);
  }

  /** @returns {Found[]} */
  #options() {
    return [...this.list.options].filter(({value}) => value).map((option) => ({
      key: option.value, name: shortName(option), other: '',
      group: option.parentElement instanceof HTMLOptGroupElement ? option.parentElement.label : '',
    }));
  }

  /** @returns {Found[]} those that were chosen last, then all */
  #all() {
    const options = this.#options();
    const last = recent().map((key) => options.find((each) => each.key === key)).filter(Boolean);
    return [...last.map((each) => ({...each, group: 'Chosen last'})), ...options];
  }

  #drawn() {
    if (!this.found.length) return [drawn('p', 'dw-found-none', 'No ingredient of that name is in the list.')];
    /** @type {HTMLElement[]} */
    const groups = [];
    // An option of an earlier list's id would not be told to a screen reader: it is the one already told.
    const id = `${this.popup.id}-${++this.drawings}`;
    this.found.forEach((each, at) => {
      let group = groups.at(-1);
      if (group?.getAttribute('aria-label') !== each.group) {
        group = drawn('div', 'dw-found-group', '');
        group.setAttribute('role', 'group');
        group.setAttribute('aria-label', each.group);
        if (each.group) group.append(drawn('div', 'dw-found-head', each.group));
        group.firstElementChild?.setAttribute('aria-hidden', 'true');
        groups.push(group);
      }
      const option = drawn('div', 'dw-found-one', each.name);
      option.id = `${id}-${at}`;
      option.dataset.at = String(at);
      option.setAttribute('role', 'option');
      if (each.other) option.append(drawn('small', '', ` ${each.other}`));
      group.append(option);
    });
    return groups;
  }

  /**
   * @param {number} at
   * @param {number} [after] milliseconds until a screen reader is told
   */
  #activate(at, after = 0) {
    this.active = at;
    const options = this.popup.querySelectorAll('[role="option"]');
    options.forEach((option, number) => option.setAttribute('aria-selected', String(number === at)));
    const option = options[at];
    if (after) this.telling = setTimeout(() => this.#tell(option?.id), after);
    else this.#tell(option?.id);
    // Only the list is moved, not the page under it.
    if (option instanceof HTMLElement) this.popup.scrollTop = Math.max(0, option.offsetTop - this.popup.clientHeight / 2);
  }

  /** @param {string} [id] the option that a screen reader is to say */
  #tell(id) {
    clearTimeout(this.telling);
    if (id) this.box.setAttribute('aria-activedescendant', id);
    else this.box.removeAttribute('aria-activedescendant');
  }

  get #isOpen() {
    return !this.popup.hidden;
  }

  #close() {
    this.popup.hidden = true;
    this.popup.replaceChildren();
    this.box.setAttribute('aria-expanded', 'false');
    this.#tell();
  }

  /** @param {KeyboardEvent} event */
  #key(event) {
    const {key} = event;
    if (key === 'ArrowDown' || key === 'ArrowUp') {
      event.preventDefault();
      const last = this.found.length - 1;
      if (!this.#isOpen) this.#open('');
      else this.#activate(key === 'ArrowDown' ? Math.min(this.active + 1, last) : Math.max(this.active - 1, 0));
    } else if (key === 'Enter' && this.#isOpen) {
      event.preventDefault();
      if (this.found[this.active]) this.#choose(this.found[this.active]);
    } else if (key === 'Escape' && this.#isOpen) {
      event.preventDefault();
      this.#close();
      this.show();
    }
  }

  /** @param {Found} one */
  #choose(one) {
    this.#close();
    this.unknown = '';
    remember(RECENT, [one.key, ...recent().filter((each) => each !== one.key)].slice(0, MOST_RECENT));
    this.#put(one.key);
    this.box.select();
  }

  /** @param {string} key */
  #put(key) {
    const before = this.list.value;
    this.list.value = key;
    this.show();
    if (this.list.value === before) return;
    for (const kind of ['input', 'change']) this.list.dispatchEvent(new Event(kind, {bubbles: true}));
  }

  /** Who leaves with a part of a name gets the first that fits; a name of nothing stays, and is told. */
  #leave() {
    const open = this.#isOpen;
    this.#close();
    const typed = this.box.value.trim();
    const chosen = this.list.selectedOptions[0];
    if (typed === this.unknown || (chosen?.value && typed === shortName(chosen))) return;
    if (open && typed && this.found[this.active]) this.#choose(this.found[this.active]);
    else if (!typed && !this.list.querySelector('option[value=""]')) this.show();
    else {
      this.unknown = typed;
      this.#put('');
    }
  }
}

/** @param {Element} place */
export function findable(place) {
  const lists = /** @type {NodeListOf<HTMLSelectElement>} */ (place.querySelectorAll('select[data-ingredients], select[data-list]'));
  return [...lists].map((list) => new IngredientBox(list));
}

/** @param {HTMLOptionElement} option */
function shortName(option) {
  return (option.textContent ?? '').split(' – ')[0];
}

/**
 * @param {string} tag
 * @param {string} kind
 * @param {string} text
 * @returns {HTMLElement}
 */
function drawn(tag, kind, text) {
  const made = document.createElement(tag);
  if (kind) made.className = kind;
  made.textContent = text;
  return made;
}

/**
 * What a typed text may mean: all of it, else without the words that say only how it comes, else as one word (butter milk).
 * @param {Found[]} options
 * @param {string} typed
 * @param {Names} known
 * @returns {Found[]}
 */
function lookUp(options, typed, {NAMES, SPELT, IDLE}) {
  const idle = new RegExp(`(?<!\\p{L})(?:${IDLE.join('|')})(?!\\p{L})`, 'gu');
  const said = plain(typed, SPELT).join(' ');
  const ways = [said, ...(IDLE.length ? [said.replace(idle, ' ')] : []), said.replaceAll(' ', '')];
  for (const way of ways) {
    const found = way.trim() ? search(options, way, NAMES, SPELT) : [];
    if (found.length) return found;
  }
  return [];
}

/**
 * The options that a typed text may mean, the likeliest first: each of its words begins a word of one of their names.
 * @param {Found[]} options
 * @param {string} typed
 * @param {Names['NAMES']} others
 * @param {Names['SPELT']} spelt
 * @returns {Found[]}
 */
function search(options, typed, others, spelt) {
  const wanted = plain(typed, spelt);
  const last = recent();
  const scored = options.map((option) => {
    const called = [option.name, ...(others[option.key] ?? [])];
    const scores = called.map((name) => fit(wanted, plain(name, spelt)));
    const best = scores.indexOf(Math.min(...scores));
    const rank = scores[best] + (best ? 0.5 : 0) - (last.includes(option.key) ? 0.3 : 0);
    return {rank, long: called[best].length, found: {...option, group: '', other: best ? `– ${called[best]}` : ''}};
  });
  return scored
    .filter(({rank}) => Number.isFinite(rank))
    .sort((one, other) => one.rank - other.rank || one.long - other.long)
    .slice(0, MOST_FOUND)
    .map(({found}) => found);
}

/**
 * @param {string[]} wanted
 * @param {string[]} name
 * @returns {number} 0 the same, 1 holds each word (egg: whole egg), 2 begins so (eggnog), 3 holds words that begin so,
 *   a quarter more for the same in another order (milk chocolate is no chocolate milk), without end for what does not fit
 */
function fit(wanted, name) {
  const same = (/** @type {string} */ one, /** @type {string} */ other) =>
    one === other || ['s', 'es'].some((end) => one + end === other || one === other + end);
  const inOrder = wanted.every((word, at) => same(word, name[at] ?? ''));
  if (!wanted.every((word) => name.some((each) => each.startsWith(word) || same(each, word)))) return Infinity;
  if (wanted.every((word) => name.some((each) => same(each, word)))) return name.length === wanted.length ? (inOrder ? 0 : 0.25) : 1;
  return name.join(' ').startsWith(wanted.join(' ')) ? 2 : 3;
}

/**
 * Words in small letters, without accents, each in one spelling.
 * @param {string} text
 * @param {Names['SPELT']} spelt
 * @returns {string[]}
 */
function plain(text, spelt) {
  const letters = text.slice(0, 80).normalize('NFKD').replace(/\p{M}/gu, '').toLowerCase().replace(/['’]/g, '');
  return (letters.match(/[\p{L}\p{N}.]+|%/gu) ?? []).flatMap((word) => (spelt[word] ?? word).split(' '));
}
