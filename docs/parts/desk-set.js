// <desk-set>: which set the desk's jobs are about, kept from page to page.

import {LIMITS} from '../page/limits.js';
import {engine} from '../engine/engine.js';
import {freeName, inHand, keepOwnSet, onSet, ownSets, takeInHand, titleOf} from './shared/desk.js';

// Before a set's file name in the list, so that no key of ours is like it.
const OWN = 'own:';

class DeskSet extends HTMLElement {
  connectedCallback() {
    this.list = /** @type {HTMLSelectElement} */ (this.querySelector('select'));
    this.gone = new AbortController();
    this.own = document.createElement('optgroup');
    this.own.label = 'Your own, on this device';
    this.list.addEventListener('change', () => this.#take());
    this.querySelector('form')?.addEventListener('submit', (event) => event.preventDefault());
    this.said = /** @type {HTMLElement} */ (this.querySelector('.dw-status'));
    this.querySelector('form button')?.addEventListener('click', () => this.#open());
    onSet(() => this.#show(), this.gone.signal);
    this.#takeAddressed();
    this.#show();
  }

  /** A lesson's page links to a job with its own set. */
  #takeAddressed() {
    const set = new URLSearchParams(location.search).get('set');
    if ([...this.list.options].some(({value}) => value === set)) takeInHand({set: /** @type {string} */ (set)});
  }

  disconnectedCallback() {
    this.gone?.abort();
  }

  #show() {
    const own = ownSets();
    const titles = own.map(({file, text}) => titleOf(text) || file);
    this.own.replaceChildren(...own.map(({file}, n) => new Option(shared(titles, n) ? `${titles[n]} (${file})` : titles[n], OWN + file)));
    if (own.length) this.list.prepend(this.own);
    else this.own.remove();
    const hand = inHand();
    this.list.value = 'set' in hand ? hand.set : OWN + hand.file;
  }

  #take() {
    const {value} = this.list;
    takeInHand(value.startsWith(OWN) ? {file: value.slice(OWN.length)} : {set: value});
  }

  #open() {
    const picker = document.createElement('input');
    picker.type = 'file';
    picker.addEventListener('change', () => {
      const chosen = picker.files?.[0];
      if (!chosen) return;
      if (chosen.size > LIMITS.setFile) this.#say('That file is too large for a set.', true);
      else this.#read(chosen);
    });
    picker.click();
  }

  /**
   * Python reads the usual encodings, and knows a document from a text.
   * @param {File} chosen
   */
  async #read(chosen) {
    try {
      const request = {part: 'set-writer', fields: {action: 'open'}};
      const answer = await engine.ask(request, {files: [{path: chosen.name, content: chosen}]});
      if (!answer.refused) {
        const file = freeName(chosen.name, answer.text);
        keepOwnSet({file, text: answer.text});
        takeInHand({file});
      }
      this.#say(answer.says, answer.refused);
    } catch (error) {
      this.#say(/** @type {Error} */ (error).message, true);
    }
  }

  /**
   * @param {string} text
   * @param {boolean} [trouble]
   */
  #say(text, trouble = false) {
    this.said.textContent = text;
    this.said.classList.toggle('dw-trouble', trouble);
  }
}

/**
 * Whether two sets have one title, so that the file must tell them apart.
 * @param {string[]} titles
 * @param {number} n
 */
function shared(titles, n) {
  return titles.some((title, other) => other !== n && title === titles[n]);
}

customElements.define('desk-set', DeskSet);
