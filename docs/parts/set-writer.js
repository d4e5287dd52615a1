// <set-writer>: a teacher fills in a set or types it, and sees it as students will. Python draws the form
// from the text and puts every change into the text; this keeps both in step, and what was there before.

import {forgetOwnSet, freeName, inHand, keepOwnSet, onSet, ownSets, takeInHand} from './shared/desk.js';
import {download} from './shared/download.js';
import {LivePart, fill, writtenIn} from './shared/live-part.js';
import {button} from './shared/form-part.js';
import {stillness} from './shared/pressed.js';
import {SetHistory} from './shared/set-history.js';
import {redraw} from './shared/set-redraw.js';
import {filterBank, ticked} from './shared/set-bank.js';
import {forget, recall, remember} from './shared/store.js';

// Who stops for so long has typed a number.
const PAUSE = 400;
const TITLE = /(^|\/)title$/;
// What was typed when the page was left, and Python had not put into the text yet.
const UNSENT = 'set-unsent';

/** What was typed or pressed: a field's name and its text. @typedef {[string, string]} Edit */

class SetWriter extends LivePart {
  begin() {
    this.view = /** @type {HTMLElement} */ (this.querySelector('[data-form]'));
    this.typing = /** @type {HTMLFormElement} */ (this.querySelector('[data-text]'));
    this.area = /** @type {HTMLTextAreaElement} */ (this.typing.elements.namedItem('text'));
    this.student = /** @type {HTMLInputElement} */ (this.querySelector('[name="student"]'));
    this.text = this.area.defaultValue;
    /** @type {string} */
    this.file = 'my-set.yml';
    this.name = 'my-set';
    this.opened = '0';
    this.latest = 0;
    /** @type {Promise<void> | undefined} */
    this.flushing = undefined;
    /** @type {Edit[]} */
    this.edits = [];
    /** What Python is putting into the text just now. @type {Edit[]} */
    this.sent = [];
    this.history = new SetHistory();
    this.#addBar();
    this.#listen();
    this.#takeOldDraft();
    const hand = inHand();
    /** @type {string} */
    this.ours = 'set' in hand ? hand.set : '';
    this.#offerCopy(true);
    if (!this.#takeEarly()) {
      if ('text' in hand) this.#adopt(hand);
      else this.#takeUnsent();
    }
    onSet(() => this.#otherSet(), this.gone.signal);
  }

  // What is always there: the two views, and what is done with the whole set.

  #addBar() {
    this.slips = document.createElement('div');
    this.formButton = button('Form', () => this.#turn(true));
    this.textButton = button('Text', () => this.#turn(false));
    this.undoButton = button('Undo', () => this.#step('undo'));
    this.redoButton = button('Redo', () => this.#step('redo'));
    this.copyButton = button('', () => this.#begin({action: 'ours', set: this.ours ?? ''}));
    const views = group('How you write', this.formButton, this.textButton);
    const steps = group('What you changed', this.undoButton, this.redoButton);
    const files = group(
      'The whole set',
      this.copyButton,
      button('New set', () => this.#begin({action: 'new'})),
      button('Save as a file', () => this.#save()),
    );
    const bar = document.createElement('div');
    bar.className = 'dw-writer-bar';
    bar.append(views, steps, files);
    this.querySelector('.dw-writer')?.before(bar, this.slips);
    this.#showView(true);
    this.#showSteps();
  }

  #listen() {
    this.addEventListener('input', (event) => this.#typed(/** @type {HTMLInputElement} */ (event.target)));
    this.addEventListener('change', (event) => this.#chosen(/** @type {HTMLInputElement} */ (event.target)));
    this.addEventListener('click', (event) => this.#pressed(/** @type {HTMLElement} */ (event.target)));
    this.addEventListener('toggle', (event) => this.#unfolded(/** @type {HTMLElement} */ (event.target)), true);
    this.addEventListener('submit', (event) => {
      event.preventDefault();
      const form = /** @type {HTMLFormElement} */ (event.target);
      if (form.dataset.problem) this.#mark(form);
    });
    // What was typed last is kept even if the page is left at once.
    document.addEventListener('click', (event) => this.#follows(event), {signal: this.gone.signal});
    addEventListener('pagehide', () => this.#keepUnsent(), {signal: this.gone.signal});
    addEventListener('pageshow', ({persisted}) => persisted && forget(UNSENT), {signal: this.gone.signal});
  }

  /** @param {HTMLInputElement} box */
  #typed(box) {
    if (box.dataset.filter) filterBank(this);
    else if (box === this.student) this.#soon(() => this.#look());
    else if (/** @type {Element} */ (box) === this.area) this.#soon(() => this.#textTyped());
    else if (this.view?.contains(box) && box.name) {
      const last = this.edits.at(-1);
      if (last?.[0] === box.name) last[1] = box.value;
      else this.edits.push([box.name, box.type === 'checkbox' && !box.checked ? '' : box.value]);
      this.#soon(() => this.#flush());
    }
  }

  /** @param {HTMLInputElement} box */
  #chosen(box) {
    const {addTo} = box.dataset;
    if (addTo && box.value) this.#addLine(addTo, box);
    else if (this.view?.contains(box) && box.name) {
      // Only a whole title names its set or its problem.
      if (TITLE.test(box.name)) this.edits.push(['do:named', box.name]);
      this.#flush();
    }
  }

  /** @param {() => void} act */
  #soon(act) {
    clearTimeout(this.timer);
    this.timer = setTimeout(act, PAUSE);
  }

  /** @param {HTMLElement} target */
  #pressed(target) {
    const pressed = /** @type {HTMLElement | null} */ (target.closest('[data-do], [data-insert], [data-line]'));
    if (!pressed) return;
    const {do: act, at = '', insert, line, column} = pressed.dataset;
    if (insert) this.#insert(pressed.getAttribute('aria-controls') ?? '', insert);
    else if (line) this.#showSlip(Number(line), Number(column));
    else if (act === 'open' || act === 'close') this.#openProblem(act === 'open' ? at : '');
    else if (act === 'take') this.#take();
    else if (act) this.#act(act, at);
  }

  /** @param {HTMLElement} folded */
  async #unfolded(folded) {
    const {lazy} = folded.dataset;
    const body = /** @type {HTMLElement | null} */ (folded.querySelector('[data-body]'));
    if (!lazy || !body || !(/** @type {HTMLDetailsElement} */ (folded).open)) return;
    delete folded.dataset.lazy;
    const answer = await this.ask({action: lazy});
    if (answer) fill(body, answer.html);
    else folded.dataset.lazy = lazy;
  }

  // Changes from the form

  /**
   * @param {string} act
   * @param {string} at
   */
  async #act(act, at) {
    this.edits.push([`do:${act}`, at]);
    const isStill = stillness();
    await this.#flush();
    if (isStill()) this.#focusAfter(act);
  }

  async #take() {
    const keys = ticked(this);
    if (!keys.length) {
      this.say('Tick at least one problem first.', true);
      return;
    }
    await this.#act('take', keys.join(' '));
    this.say(`${keys.length} taken in. ${this.status?.textContent ?? ''}`);
  }

  /**
   * Put a name in braces where the caret is.
   * @param {string} id
   * @param {string} words
   */
  #insert(id, words) {
    const box = /** @type {HTMLTextAreaElement} */ (document.getElementById(id));
    box.focus();
    box.setRangeText(words, box.selectionStart, box.selectionEnd, 'end');
    box.dispatchEvent(new Event('input', {bubbles: true}));
  }

  /**
   * @param {string} id
   * @param {HTMLInputElement} list
   */
  #addLine(id, list) {
    const box = /** @type {HTMLTextAreaElement} */ (document.getElementById(id));
    box.value = [...box.value.split('\n').filter((line) => line.trim()), list.value].join('\n');
    list.value = '';
    box.dispatchEvent(new Event('input', {bubbles: true}));
  }

  /** Send what was typed and pressed; done when all of it is in the text. */
  #flush() {
    clearTimeout(this.timer);
    this.flushing ??= this.#send().finally(() => {
      this.flushing = undefined;
    });
    return this.flushing;
  }

  /** In order, one question after the other. */
  async #send() {
    while (this.edits?.length) {
      this.sent = this.edits.splice(0);
      const answer = await this.ask({...this.#set, taken: this.#taken, action: 'edit', edits: JSON.stringify(this.sent)});
      if (!answer) this.edits.unshift(...(this.sent ?? []));
      this.sent = [];
      if (!answer) break;
      this.#changed(answer.text);
      if (!this.edits.length) this.#show(answer);
    }
  }

  /** @returns {string} the files of the teacher's other sets, a line each */
  get #taken() {
    return ownSets().map(({file}) => file).filter((file) => file !== this.file).join('\n');
  }

  /** @returns {Record<string, string>} what each question about the set tells */
  get #set() {
    return {text: this.text ?? '', file: this.file ?? '', open: this.opened ?? '', student: this.student?.value ?? ''};
  }

  /**
   * A link is followed when all that was typed is kept.
   * @param {MouseEvent} event
   */
  async #follows(event) {
    const link = /** @type {HTMLElement} */ (event.target).closest('a');
    const leaves = link?.href && !link.hash && !link.target && !event.ctrlKey && !event.metaKey && !event.shiftKey;
    if (!leaves || !(this.edits?.length || this.flushing)) return;
    event.preventDefault();
    await this.#settle();
    location.href = link.href;
  }

  /** The text by itself; of the form what Python has not put in yet. */
  #keepUnsent() {
    if (this.area && this.area.value !== this.text) this.#changed(this.area.value, false);
    const waiting = [...(this.sent ?? []), ...(this.edits ?? [])];
    if (waiting.length) remember(UNSENT, {file: this.file, edits: waiting});
  }

  #takeUnsent() {
    const {file, edits} = recall(UNSENT, /** @type {{file?: string, edits?: Edit[]}} */ ({}));
    if (file !== this.file || !Array.isArray(edits)) return;
    forget(UNSENT);
    this.edits?.push(...edits);
    this.#flush();
  }

  // The text, and its history

  async #textTyped() {
    this.#changed(this.area?.value ?? '', false);
    await this.#look();
  }

  /**
   * @param {string} text
   * @param {boolean} [write] whether the text's own view has to follow
   */
  #changed(text, write = true) {
    if (text === this.text) return;
    this.history?.add(this.text ?? '');
    this.#write(text, write);
    this.#keep();
  }

  /**
   * @param {string} text
   * @param {boolean} [write]
   */
  #write(text, write = true) {
    this.text = text;
    if (write && this.area) this.area.value = text;
    this.#showSteps();
  }

  /** @param {'undo' | 'redo'} way */
  async #step(way) {
    await this.#settle();
    const text = this.history?.[way](this.text ?? '');
    if (text === undefined) return;
    this.#write(text);
    this.#keep();
    await this.#look();
  }

  /** What was just typed, in either view, counts first. */
  async #settle() {
    await this.#flush();
    if (this.area && this.area.value !== this.text) await this.#textTyped();
  }

  #keep() {
    this.keeping = true;
    const kept = keepOwnSet({file: this.file ?? '', text: this.text ?? ''});
    const hand = inHand();
    if (kept && !this.leaving && !('file' in hand && hand.file === this.file)) takeInHand({file: this.file ?? ''});
    this.keeping = false;
    this.ours = '';
    this.#offerCopy(false);
    if (!kept) this.say('This device keeps nothing now. Save your set as a file.', true);
  }

  /** The file follows the set's own name. @param {string} name */
  #follow(name) {
    const file = `${name}.yml`;
    if (!name || file === this.file || name === this.name) return;
    if (this.name && !ownSets().some((set) => set.file === file)) {
      const before = this.file ?? '';
      const kept = ownSets().some((set) => set.file === before);
      this.file = file;
      if (kept) {
        this.#keep();
        forgetOwnSet(before);
      }
    }
  }

  // What Python answers

  async #look() {
    const asked = ++this.latest;
    const answer = await this.ask({...this.#set, action: 'show'});
    if (answer && asked === this.latest && !this.edits?.length) this.#show(answer);
  }

  /** @param {string} at */
  async #openProblem(at) {
    await this.#flush();
    this.opened = at;
    await this.#look();
  }

  /** @param {Record<string, any>} answer */
  #show(answer) {
    this.opened = answer.open;
    this.#follow(answer.name);
    this.name = answer.name;
    if (this.view) redraw(this.view, answer.form);
    this.complain(answer.beside);
    this.latestSlips = answer;
    this.#showSlips();
    this.output.classList.toggle('dw-stale', !answer.html);
    if (answer.html) fill(this.output, answer.html, writtenIn(this.output));
    if (answer.trouble) this.say(answer.says, true);
  }

  #showSlips() {
    if (!this.slips || !this.latestSlips) return;
    fill(this.slips, this.view?.hidden ? this.latestSlips.slips : this.latestSlips.unplaced);
  }

  /** @param {string} act */
  #focusAfter(act) {
    const at = this.opened ?? '';
    const header = /** @type {HTMLElement | null} */ (this.view?.querySelector(`.dw-set-open[data-at="${at}"]`));
    if (act === 'add' || act === 'copy') {
      const title = /** @type {HTMLInputElement | null} */ (this.view?.querySelector(`[name="problems/${at}/title"]`));
      title?.focus();
      title?.select();
    } else if (act === 'up' || act === 'down') {
      const again = /** @type {HTMLButtonElement | null} */ (this.view?.querySelector(`[data-do="${act}"][data-at="${at}"]`));
      (again?.disabled ? header : again)?.focus();
    } else if (act === 'delete') {
      const first = /** @type {HTMLElement | null} */ (this.view?.querySelector('.dw-set-open'));
      (first ?? this.querySelector('summary'))?.focus();
    }
  }

  /** @param {HTMLFormElement} form */
  async #mark(form) {
    const answers = JSON.stringify(Object.fromEntries(new FormData(form)));
    const answer = await this.ask({...this.#set, action: 'mark', problem: form.dataset.problem ?? '', answers});
    const place = form.querySelector('[data-feedback]');
    if (answer && place) fill(/** @type {HTMLElement} */ (place), answer.html);
    if (this.latestSlips) this.complain(this.latestSlips.beside);
  }

  // The two views

  /** @param {boolean} form */
  async #turn(form) {
    await this.#settle();
    this.#showView(form);
    this.#showSlips();
  }

  /** @param {boolean} form */
  #showView(form) {
    for (const place of [this.view, ...this.querySelectorAll('.dw-writer-add')]) {
      if (place) /** @type {HTMLElement} */ (place).hidden = !form;
    }
    if (this.typing) this.typing.hidden = form;
    this.formButton?.setAttribute('aria-pressed', String(form));
    this.textButton?.setAttribute('aria-pressed', String(!form));
  }

  #showSteps() {
    if (this.undoButton && this.history) this.undoButton.disabled = !this.history.canUndo;
    if (this.redoButton && this.history) this.redoButton.disabled = !this.history.canRedo;
  }

  /**
   * Put the caret where the slip is.
   * @param {number} line
   * @param {number} column
   */
  async #showSlip(line, column) {
    await this.#turn(false);
    const area = /** @type {HTMLTextAreaElement} */ (this.area);
    const lines = area.value.split('\n');
    const start = lines.slice(0, line - 1).reduce((sum, each) => sum + each.length + 1, 0);
    const place = Math.min(start + column - 1, area.value.length);
    area.focus({preventScroll: true});
    area.setSelectionRange(place, Math.min(start + (lines[line - 1] ?? '').length, area.value.length));
    showLine(area, line);
  }

  // Another set

  /** @param {import('./shared/desk.js').OwnSet} set */
  async #adopt({file, text}) {
    this.edits = [];
    this.history?.clear();
    this.file = file;
    this.name = '';
    this.opened = '0';
    this.#write(text);
    // Until Python has drawn its form, another set's is there: what is typed into that would get into this one.
    await this.#withoutForm(() => this.#look());
    this.#takeUnsent();
  }

  /** @param {() => Promise<void>} act while nothing can be typed into the form */
  async #withoutForm(act) {
    const writer = /** @type {HTMLElement} */ (this.querySelector('.dw-writer'));
    writer.inert = true;
    await act();
    writer.inert = false;
  }

  /** @param {boolean} offer whether one of ours is in hand, and this is no copy of it */
  #offerCopy(offer) {
    if (!this.copyButton) return;
    this.copyButton.hidden = !(offer && this.ours);
    this.copyButton.textContent = `Change a copy of “${titleInHand()}”`;
  }

  async #otherSet() {
    // What is just being kept is what is here.
    if (this.keeping || this.leaving) return;
    // What was typed last goes into the set that it was typed in.
    this.leaving = true;
    await this.#settle();
    this.leaving = false;
    const hand = inHand();
    if ('text' in hand) {
      this.ours = '';
      this.#offerCopy(false);
      if (hand.file !== this.file || (hand.text !== this.text && !this.flushing)) await this.#adopt(hand);
    } else if (hand.set !== this.ours) {
      this.ours = hand.set;
      await this.#begin({action: 'ours', set: hand.set}, false);
    }
  }

  /**
   * @param {Record<string, string>} fields
   * @param {boolean} [keep] whether it is the teacher's own from the start
   */
  async #begin(fields, keep = true) {
    // Nothing is typed into what is about to go.
    await this.#withoutForm(async () => {
      await this.#settle();
      const taken = ownSets().map(({file}) => file).join('\n');
      const answer = await this.ask({...fields, taken});
      if (!answer) return;
      const file = freeName(answer.file, answer.text);
      await this.#adopt({file, text: answer.text});
      if (keep) this.#keep();
      this.say(answer.says);
    });
  }

  async #save() {
    await this.#settle();
    download(this.text ?? '', this.file ?? '', 'application/yaml');
    this.say(`The set is saved as ${this.file}.`);
  }

  /**
   * What was typed before this script came is a set by itself, so that it takes no other's place.
   * @returns {boolean} whether anything was
   */
  #takeEarly() {
    const fields = /** @type {NodeListOf<HTMLInputElement>} */ (this.view?.querySelectorAll('input[name]:not([type="checkbox"]), textarea[name]'));
    this.edits = [...fields].filter(({value, defaultValue}) => value !== defaultValue).map(({name, value}) => [name, value]);
    const isText = this.area?.value !== this.text;
    if (!isText && !this.edits.length) return false;
    this.file = freeName(this.file ?? '', this.text ?? '');
    if (isText) this.#textTyped();
    this.#flush();
    return true;
  }

  /** What an earlier version of this page kept is the teacher's own set too. */
  #takeOldDraft() {
    const text = recall('set-text', '');
    if (text && text !== this.text) {
      const file = freeName(recall('set-file', 'my-set.yml'), text);
      if (!keepOwnSet({file, text})) return;
      takeInHand({file});
    }
    forget('set-text');
    forget('set-file');
  }
}

/**
 * @param {string} label
 * @param {...HTMLElement} inside
 */
function group(label, ...inside) {
  const made = document.createElement('div');
  made.setAttribute('role', 'group');
  made.setAttribute('aria-label', label);
  made.append(...inside);
  return made;
}

/** The title of the set in hand, as the list at the head of the page has it. */
function titleInHand() {
  const list = /** @type {HTMLSelectElement | null} */ (document.querySelector('desk-set select'));
  return list?.selectedOptions[0]?.textContent ?? 'the set in hand';
}

/**
 * Bring a line into the middle of the box, and then of the window.
 * @param {HTMLTextAreaElement} area
 * @param {number} line
 */
function showLine(area, line) {
  const style = getComputedStyle(area);
  const above = parseFloat(style.paddingTop) + (line - 0.5) * parseFloat(style.lineHeight);
  area.scrollTop = above - area.clientHeight / 2;
  const inWindow = area.getBoundingClientRect().top + above - area.scrollTop;
  window.scrollBy({top: inWindow - window.innerHeight / 2, behavior: 'instant'});
}

customElements.define('set-writer', SetWriter);
