// A part that is a form with a result: recomputes as the reader types, keeps its state in the address.

import {AnswerInSight} from './answer-in-sight.js';
import {AtRest} from './at-rest.js';
import {giveUnit} from './bare-number.js';
import {FormHistory, changed} from './form-history.js';
import {findable} from './ingredient-box.js';
import {LivePart} from './live-part.js';
import {LINKED, addOwnChoices, carryOwn, isOwn, usesOwn} from './own.js';
import {letGo} from './pressed.js';
import {printAlone} from './print-alone.js';
import {refill} from './refill.js';
import {fillList} from './shared-list.js';
import {pairs, recall, remember} from './store.js';

// Answers come at each letter. What would disturb who types waits for a rest: complaints, a screen reader's
// line, a page that grows shorter. And browsers refuse an address that changes too often.
const REST = 600;
const ADDRESS_REST = 120;
// A browser refuses an address that is too long, and then the rest of the form would not work.
const LONGEST_IN_ADDRESS = 500;
const MISSING =
  'This link uses an ingredient that only its sender’s device has. Choose another one here. Or ask the sender for ' +
  'its file, read it on the page “Your ingredients”, and open the link again.';

// How a reader wants numbers: kept on the device for the next page.
const STYLE = ['mass', 'decimal', 'degrees'];

export class FormPart extends LivePart {
  begin() {
    this.form = /** @type {HTMLFormElement} */ (this.querySelector('form'));
    const typed = this.#takeTyped();
    this.found = findable(this.form);
    this.rest = new AtRest(REST, () => letGo().then(() => this.rest.waits || this.rested()));
    this.addressRest = new AtRest(ADDRESS_REST, () => this.#writeAddress());
    this.told = this.#addTold();
    this.inSight = new AnswerInSight(this.status);
    this.complaintInSight = new AnswerInSight(this.status, 'data-complaint-in-sight');
    this.inSight.watch(this.output.querySelector('.dw-answer'));
    // When a box is left, a number alone in it gets its unit: the reader sees how it is read.
    this.addEventListener('change', (event) => {
      const box = event.target;
      // A formula’s amount may be a percentage or a count: how it is read is said, and not written into it.
      if (box instanceof HTMLInputElement && !box.closest('.dw-line, .dw-sentence') && giveUnit(box, this.#unitOf(box))) {
        box.dispatchEvent(new Event('input', {bubbles: true}));
      }
    });
    this.form.addEventListener('input', (event) => {
      const first = !this.rest.waits;
      this.#keepAmounts();
      this.#keepStyle(event.target);
      this.typed();
      if (first) this.#holdRoom(true);
    });
    this.#selectWhatIsTapped();
    this.form.addEventListener('submit', (event) => {
      event.preventDefault();
      this.update();
    });
    this.#hearButtons();
    /** @type {Record<string, string>} */
    this.missing = {};
    if (document.prerendering) this.#takeUpWhenSeen(typed);
    else this.#takeUp(typed);
  }

  /**
   * In a page that was loaded ahead all is laid out for the address; what the device keeps may still change.
   * @param {Record<string, string>} typed
   */
  #takeUpWhenSeen(typed) {
    this.#readAddress();
    this.arrange();
    document.addEventListener('prerenderingchange', () => {
      addOwnChoices(this);
      this.missing = {};
      this.#takeUp(typed);
    }, {once: true});
  }

  /**
   * Put into the form what the address, the device and the reader say; ask where it is not the page's own example.
   * @param {Record<string, string>} typed what was there before this script came
   */
  #takeUp(typed) {
    const addressed = this.#readAddress();
    const styled = this.#takeStyle(addressed);
    this.history = new FormHistory(this.#boxes());
    const brought = this.inHand(addressed);
    this.put({...brought, ...typed});
    this.arrange();
    this.#printLink();
    if (Object.keys(this.missing).length) this.#tellMissing();
    else if (addressed.length || Object.keys({...brought, ...typed}).length) this.update();
    else if (styled) this.#answer();
  }

  /** A tapped amount is selected: what is typed takes its place. */
  #selectWhatIsTapped() {
    /** @type {EventTarget | null} */
    let entered = null;
    this.form.addEventListener('focusin', ({target}) => {
      entered = target;
      if (target instanceof HTMLInputElement && target.inputMode === 'decimal') target.select();
    });
    // The tap that enters a box would set its caret; the next one may.
    this.form.addEventListener('mouseup', (event) => {
      if (event.target === entered) event.preventDefault();
      entered = null;
    });
  }

  /** @returns {Record<string, string>} what was typed before this script came, or kept by the browser over a reload */
  #takeTyped() {
    const found = this.#boxes();
    this.form.reset();
    this.original = this.fields();
    const before = this.#boxes();
    return Object.fromEntries(Object.entries(found).filter(([name, value]) => value !== before[name]));
  }

  /**
   * What comes along from another page; for each part to write.
   * @param {string[]} addressed names that the address says
   * @returns {Record<string, string>}
   */
  inHand(addressed) {
    return {};
  }

  /** The printed sheet says where this form is opened again, as it is filled in. */
  #printLink() {
    const line = document.createElement('p');
    line.className = 'dw-link-on-paper';
    this.append(line);
    const write = () => {
      const names = [...new URLSearchParams(location.search).keys()];
      const mine = names.some((name) => name.startsWith(this.#prefix) && this.form.elements.namedItem(name.slice(this.#prefix.length)));
      line.textContent = mine ? `To open this again, as it is filled in: ${location.href}` : '';
    };
    addEventListener('beforeprint', write, {signal: this.gone.signal});
  }

  /** Show and hide fields as the form's values want it; for each part to write. */
  arrange() {}

  /** @returns {Record<string, string>} */
  fields() {
    return /** @type {Record<string, string>} */ (Object.fromEntries(new FormData(this.form)));
  }

  /** @returns {Record<string, string>} the units that the form shows amounts in, by the name of the choice */
  #units() {
    const chosen = (/** @type {string} */ name) => /** @type {HTMLSelectElement | null} */ (this.form.elements.namedItem(name))?.value ?? '';
    return {mass: chosen('mass'), degrees: chosen('degrees')};
  }

  /** @param {HTMLInputElement} box */
  #unitOf(box) {
    return box.dataset.unit ?? this.units[box.dataset.unitBy ?? ''] ?? '';
  }

  /** Where another unit was just chosen, numbers alone keep the one they had. */
  #keepAmounts() {
    const chosen = this.#units();
    for (const box of /** @type {NodeListOf<HTMLInputElement>} */ (this.form.querySelectorAll('[data-unit-by]'))) {
      if (this.#unitOf(box) !== chosen[box.dataset.unitBy ?? '']) giveUnit(box, this.#unitOf(box));
    }
    this.units = chosen;
  }

  /** @returns {Record<string, string>} as `fields`, with boxes that are not ticked, as nothing */
  #boxes() {
    const ticks = /** @type {NodeListOf<HTMLInputElement>} */ (this.form.querySelectorAll('[type="checkbox"]'));
    return {...Object.fromEntries([...ticks].map((box) => [box.name, ''])), ...this.fields()};
  }

  /**
   * Put values into the form as they are: numbers alone are in the units that come with them.
   * @param {Record<string, string>} values
   */
  put(values) {
    for (const [name, value] of Object.entries(values)) putInto(this.form.elements.namedItem(name), value);
    this.showChosen();
    this.units = this.#units();
  }

  /** The boxes for ingredients say what is chosen in their lists. */
  showChosen() {
    for (const box of this.found) box.show();
  }

  /** Ask Python again, and tell its answer as soon as it comes. */
  async update() {
    const answered = this.typed();
    this.addressRest.now();
    this.rest.now();
    await answered;
  }

  /** Ask Python while the reader types on. */
  typed() {
    this.rest.soon();
    this.arrange();
    this.addressRest.soon();
    const answered = this.#answer();
    // Python works meanwhile.
    this.history.note(this.#boxes());
    this.#showUndo();
    this.did.textContent = '';
    return answered;
  }

  /** Nobody types any more: what was held back is told. */
  rested() {
    this.#holdRoom(false);
    if (this.asking) return;
    if (this.heldComplaints) this.complain(...this.heldComplaints);
    if (this.heldWords) this.say(...this.heldWords);
  }

  /**
   * A result that grows shorter would pull the page up under who types at its end.
   * @param {boolean} held
   */
  #holdRoom(held) {
    this.output.style.minHeight = held ? `${this.output.offsetHeight}px` : '';
  }

  /** @param {Parameters<LivePart['complain']>} all */
  complain(...all) {
    if (this.unasked) return;
    this.heldComplaints = this.rest.waits ? all : null;
    if (this.rest.waits) return;
    super.complain(...all);
    this.complaintInSight.watch(this.querySelector('.dw-complaint:not(.dw-remark, :empty)'));
  }

  /**
   * While one types, only the line that is seen follows, and only with answers.
   * @param {string} text
   * @param {boolean} [trouble]
   */
  say(text, trouble = false) {
    if (this.unasked) return;
    this.heldWords = this.rest.waits ? /** @type {[string, boolean]} */ ([text, trouble]) : null;
    if (!this.rest.waits || !trouble) super.say(text, trouble);
    if (!this.rest.waits) this.told.textContent = text;
  }

  /** @returns {HTMLElement} what a screen reader is told, in place of the line that is seen */
  #addTold() {
    const told = document.createElement('p');
    told.className = 'dw-hidden';
    told.setAttribute('role', 'status');
    this.status.removeAttribute('role');
    this.append(told);
    return told;
  }

  /** The newest question is asked as soon as Python is free; those that were typed over are not. */
  #answer() {
    this.unasked = true;
    this.asking ??= this.#askNewest();
    return this.asking;
  }

  async #askNewest() {
    this.output.setAttribute('aria-busy', 'true');
    let answer = null;
    try {
      while (this.unasked) {
        this.unasked = false;
        const asked = this.ask(this.fields());
        // Python works meanwhile; who sees its answer may take the link at once.
        if (this.addressRest.waits) this.addressRest.now();
        answer = await asked;
      }
      this.#showAnswer(answer);
    } finally {
      this.asking = null;
    }
  }

  /** @param {Record<string, any> | null} answer */
  #showAnswer(answer) {
    this.output.removeAttribute('aria-busy');
    this.output.classList.toggle('dw-stale', !answer);
    if (answer) {
      this.output.hidden = false;
      this.#putCells(answer.cells ?? {});
      this.show(answer);
    }
    // An answer to what was typed before says nothing of what is typed now.
    this.inSight.watch(answer && this.output.querySelector('.dw-answer'));
  }

  /**
   * What the formula's table says of its rows.
   * @param {Record<string, string>} cells by their names
   */
  #putCells(cells) {
    for (const place of /** @type {NodeListOf<HTMLElement>} */ (this.form.querySelectorAll('[data-cell]'))) {
      const text = cells[place.dataset.cell ?? ''] ?? '';
      if (place.textContent !== text) place.textContent = text;
    }
  }

  /**
   * Show Python's answer; a part with more than one place to fill writes its own.
   * @param {Record<string, any>} answer
   */
  show(answer) {
    refill(this.output, answer.html);
  }

  /** A second part in the page has an id, and its id before each name in the address. */
  get #prefix() {
    return this.id ? `${this.id}.` : '';
  }

  /** @param {EventTarget | null} choice */
  #keepStyle(choice) {
    if (!(choice instanceof HTMLSelectElement) || !STYLE.includes(choice.name)) return;
    remember('style', {...pairs(recall('style', {}), 'string'), [choice.name]: choice.value});
  }

  /**
   * Numbers as the reader last wanted them, in all that the address does not say; amounts stay what they are.
   * @param {string[]} said names that the address says
   * @returns {boolean} whether that changed the form
   */
  #takeStyle(said) {
    const before = JSON.stringify(this.fields());
    for (const [name, value] of Object.entries(pairs(recall('style', {}), 'string'))) {
      const choice = STYLE.includes(name) && !said.includes(name) && this.form.elements.namedItem(name);
      if (!(choice instanceof HTMLSelectElement)) continue;
      if ([...choice.options].some((option) => option.value === value)) choice.value = value;
    }
    this.#keepAmounts();
    return JSON.stringify(this.fields()) !== before;
  }

  /** @returns {string[]} the names of the fields that the address held a value for */
  #readAddress() {
    const mine = [...new URLSearchParams(location.search)]
      .filter(([name]) => name.startsWith(this.#prefix))
      .map(([name, value]) => [name.slice(this.#prefix.length), value])
      .filter(([name]) => this.form.elements.namedItem(name));
    this.put(Object.fromEntries(mine));
    for (const [name, value] of mine) {
      const control = /** @type {HTMLInputElement} */ (this.form.elements.namedItem(name));
      if (control.value !== value && isOwn(value)) this.missing[name] = MISSING;
    }
    return mine.map(([name]) => name);
  }

  /** A link to what this device does not have: the page's own example must not pass for the sender's dough. */
  #tellMissing() {
    this.output.hidden = true;
    this.complain(this.missing);
    this.say('The link’s ingredient is not on this device. The form says what to do.', true);
  }

  #writeAddress() {
    const address = new URL(location.href);
    carryOwn(address);
    const values = this.fields();
    for (const name of new Set([...Object.keys(values), ...Object.keys(this.original)])) {
      const value = values[name] ?? '';
      if (value === (this.original[name] ?? '') || value.length > LONGEST_IN_ADDRESS) address.searchParams.delete(this.#prefix + name);
      else address.searchParams.set(this.#prefix + name, value);
    }
    // Saying the same again would cost a page that starts as much as a layout.
    if (address.href === location.href) return;
    try {
      history.replaceState(history.state, '', address);
    } catch {
      // Too often, says the browser: a little later it takes it.
      this.addressRest.soon();
    }
  }

  #hearButtons() {
    const bar = /** @type {HTMLElement} */ (this.form.querySelector('[data-form-acts]'));
    const acts = {
      link: () => this.#copyLink(),
      print: () => printAlone(this),
      again: () => this.#startAgain(),
      undo: () => this.#undo(),
    };
    for (const [name, act] of Object.entries(acts)) bar.querySelector(`[data-bar="${name}"]`)?.addEventListener('click', act);
    this.undo = /** @type {HTMLButtonElement} */ (bar.querySelector('[data-bar="undo"]'));
    this.undo.setAttribute('aria-disabled', 'true');
    // What a button did is told beside it, in sight; the result has its own line.
    this.did = /** @type {HTMLElement} */ (bar.querySelector('.dw-did'));
  }

  /** All as it was at first. */
  async #startAgain() {
    const typed = this.#boxes();
    this.form.reset();
    this.showChosen();
    this.units = this.#units();
    this.#takeStyle([]);
    await this.update();
    if (changed(typed, this.#boxes()).length) this.did.textContent = 'All is as it was at first. “Undo” brings back what you typed.';
  }

  /** One change back, and once more with each press. */
  async #undo() {
    const before = this.history.back();
    if (!before) return;
    this.put(before);
    await this.update();
    this.did.textContent = 'Undone.';
  }

  #showUndo() {
    this.undo.setAttribute('aria-disabled', String(!this.history.past.length));
  }

  async #copyLink() {
    this.#writeAddress();
    try {
      await navigator.clipboard.writeText(location.href);
      this.did.textContent = `The link is copied. ${carried()}`.trim();
    } catch {
      this.did.textContent = 'The link is in the address bar: copy it from there.';
    }
  }
}

/** @returns {string} what the sender of a link must know of its own ingredients */
function carried() {
  if (!usesOwn()) return '';
  return new URL(location.href).searchParams.has(LINKED)
    ? 'It carries your own ingredients too.'
    : 'It uses ingredients that only this device has. Send their file too: the page “Your ingredients” saves it.';
}

/**
 * @param {Element | RadioNodeList | null} control
 * @param {string} value
 */
function putInto(control, value) {
  if (control instanceof HTMLSelectElement && value) fillList(control);
  if (control instanceof HTMLInputElement && control.type === 'checkbox') control.checked = value === control.value;
  else if (control instanceof HTMLInputElement || control instanceof HTMLSelectElement || control instanceof HTMLTextAreaElement) control.value = value;
}

/**
 * @param {string} text
 * @param {() => void} act
 * @returns {HTMLButtonElement}
 */
export function button(text, act) {
  const made = document.createElement('button');
  made.type = 'button';
  made.className = 'dw-button dw-quiet';
  made.textContent = text;
  made.addEventListener('click', act);
  return made;
}
