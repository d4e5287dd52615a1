// <given-set>: opens the set in the page's address, in a pasted text or in a file. What is shown then is
// a <problem-set>, which keeps the student's work.

import {LIMITS} from '../page/limits.js';
import {choose, takeDrops} from './shared/chosen-files.js';
import {button} from './shared/form-part.js';
import {LivePart, fill} from './shared/live-part.js';
import {forget, recall, remember, shelves} from './shared/store.js';

/** A set that was opened on this device. @typedef {{title: string, packed: string, opened: number}} Opened */
/** The same with the name that it is kept under. @typedef {[string, Opened]} Listed */

const START = '#set=';
const SHELF = 'given-set/';
const MOST_LISTED = 20;

class GivenSet extends LivePart {
  begin() {
    this.opener = /** @type {HTMLDetailsElement} */ (this.querySelector('details'));
    this.form = /** @type {HTMLFormElement} */ (this.querySelector('form'));
    this.form.addEventListener('submit', (event) => {
      event.preventDefault();
      this.#open(/** @type {HTMLTextAreaElement} */ (this.form.elements.namedItem('text')).value, '');
    });
    const take = (/** @type {import('../engine/engine.js').Given[]} */ [file]) => file && this.#openFile(file);
    this.hear({choose: () => choose({accept: '.yml,.yaml,.txt,text/plain'}, take)});
    takeDrops(this.form, take);
    addEventListener('hashchange', () => this.#openAddress(), {signal: this.gone.signal});
    this.#list();
    this.#openAddress();
  }

  get refusal() {
    return 'Not opened.';
  }

  #openAddress() {
    if (location.hash.startsWith(START)) this.#open(location.hash, '');
  }

  /** @param {import('../engine/engine.js').Given} file */
  async #openFile({path, content}) {
    if (content.size > LIMITS.setLink) {
      this.say('Not opened. This file is far too large for a set. Is it the right one?', true);
      return;
    }
    this.#open(await content.text(), path.split('/').at(-1) ?? '');
  }

  /**
   * @param {string} text a link, or a set's text
   * @param {string} file the file's name; empty for none
   */
  async #open(text, file) {
    if (!text.trim()) {
      this.say('Paste the link that your teacher sent, or choose the file.', true);
      return;
    }
    this.say('Opening the set …');
    const answer = await this.ask({text: text.slice(0, LIMITS.setLink + 1), file});
    if (!answer) {
      this.opener.open = true;
      return;
    }
    this.#show(answer);
    this.#list();
  }

  /** @param {Record<string, any>} answer */
  #show({html, key, content, title, packed}) {
    remember(`${SHELF}${key}@${content}`, {title, packed, opened: Date.now()});
    // So that a reload, or a mark in the browser, opens it again. It changes no page: nothing is fetched.
    history.replaceState(null, '', START + packed);
    this.opener.open = false;
    fill(this.output, html);
  }

  /** What was opened here before, the latest first. */
  #list() {
    const place = /** @type {HTMLElement} */ (this.querySelector('[data-opened]'));
    const none = {title: '', packed: '', opened: 0};
    const opened = shelves(SHELF)
      .map((name) => /** @type {Listed} */ ([name, recall(name, none)]))
      .filter(([, {title, packed}]) => typeof title === 'string' && typeof packed === 'string' && packed)
      .sort(([, one], [, other]) => other.opened - one.opened)
      .slice(0, MOST_LISTED);
    const isOpen = Boolean(place.querySelector('details')?.open);
    place.replaceChildren(...(opened.length ? [listOf(opened, isOpen, (one) => this.#remove(one))] : []));
  }

  /**
   * Take a set off the list, with a button that puts it back. What was answered to it stays.
   * @param {Listed} one
   */
  #remove([name, set]) {
    forget(name);
    this.#list();
    this.say(`“${set.title}” is off the list. Your answers to it are kept: its link or file opens it again. `);
    const back = button('Undo', () => {
      remember(name, set);
      this.#list();
      this.say(`“${set.title}” is on the list again.`);
      /** @type {HTMLElement | null} */ (this.querySelector('[data-opened] summary'))?.focus();
    });
    this.status?.append(back);
    back.focus();
  }
}

/**
 * @param {Listed[]} sets
 * @param {boolean} isOpen
 * @param {(one: Listed) => void} remove
 */
function listOf(sets, isOpen, remove) {
  const whole = document.createElement('details');
  whole.open = isOpen;
  const summary = document.createElement('summary');
  summary.textContent = 'Sets that were opened on this device';
  const list = document.createElement('ul');
  for (const one of sets) {
    const [, {title, packed}] = one;
    const link = document.createElement('a');
    link.href = START + packed;
    link.textContent = title;
    const item = document.createElement('li');
    const off = button('Remove', () => remove(one));
    off.setAttribute('aria-label', `Remove: ${title}`);
    item.append(link, ' ', off);
    list.append(item);
  }
  whole.append(summary, list);
  return whole;
}

customElements.define('given-set', GivenSet);
