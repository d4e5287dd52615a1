// <desk-set>: which set the desk's jobs are about, kept from page to page.

import {LIMITS} from '../page/limits.js';
import {inHand, keepOwnSet, onSet, ownSets, takeInHand} from './shared/desk.js';
import {button} from './shared/form-part.js';

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
    this.list.after(button('Open a set file', () => this.#open()));
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
    this.own.replaceChildren(...own.map(({file}) => new Option(file, OWN + file)));
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
    picker.accept = '.yml,.yaml,text/plain';
    picker.addEventListener('change', async () => {
      const chosen = picker.files?.[0];
      if (!chosen || chosen.size > LIMITS.setFile) return;
      keepOwnSet({file: chosen.name, text: await chosen.text()});
      takeInHand({file: chosen.name});
    });
    picker.click();
  }
}

customElements.define('desk-set', DeskSet);
