// <given-set>: opens the set in the page's address, in a pasted text or in a file. What is shown then is
// a <problem-set>, which keeps the student's work.

import {LIMITS} from '../page/limits.js';
import {choose, takeDrops} from './shared/chosen-files.js';
import {button} from './shared/form-part.js';
import {LivePart, fill} from './shared/live-part.js';
import {recall, remember, shelves} from './shared/store.js';

/** A set that was opened on this device. @typedef {{title: string, packed: string, opened: number}} Opened */

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
    this.querySelector('[data-open]')?.append(button('Choose a file', () => choose({accept: '.yml,.yaml,.txt,text/plain'}, take)));
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
      .map((name) => /** @type {Opened} */ (recall(name, none)))
      .filter(({title, packed}) => typeof title === 'string' && typeof packed === 'string' && packed)
      .sort((one, other) => other.opened - one.opened)
      .slice(0, MOST_LISTED);
    place.replaceChildren(...(opened.length ? [listOf(opened)] : []));
  }
}

/** @param {Opened[]} sets */
function listOf(sets) {
  const whole = document.createElement('details');
  const summary = document.createElement('summary');
  summary.textContent = 'Sets that were opened on this device';
  const list = document.createElement('ul');
  for (const {title, packed} of sets) {
    const link = document.createElement('a');
    link.href = START + packed;
    link.textContent = title;
    const item = document.createElement('li');
    item.append(link);
    list.append(item);
  }
  whole.append(summary, list);
  return whole;
}

customElements.define('given-set', GivenSet);
