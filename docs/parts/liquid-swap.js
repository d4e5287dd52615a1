// <liquid-swap>: recomputes as the reader types, and keeps the formula in the address.

import {LivePart, fill} from './live-part.js';

const PAUSE = 120;

export class LiquidSwap extends LivePart {
  begin() {
    this.form = /** @type {HTMLFormElement} */ (this.querySelector('form'));
    this.original = this.fields();
    this.timer = 0;
    this.latest = 0;
    this.form.addEventListener('input', () => {
      clearTimeout(this.timer);
      this.timer = setTimeout(() => this.update(), PAUSE);
    });
    this.form.addEventListener('submit', (event) => {
      event.preventDefault();
      this.update();
    });
    this.#addButtons();
    const changed = this.#readAddress();
    this.#showOwn();
    if (changed) this.update();
  }

  /** @returns {Record<string, string>} */
  fields() {
    return /** @type {Record<string, string>} */ (Object.fromEntries(new FormData(this.form)));
  }

  async update() {
    this.#showOwn();
    this.#showRows();
    this.#writeAddress();
    const asked = ++this.latest;
    this.output.setAttribute('aria-busy', 'true');
    const answer = await this.ask(this.fields());
    if (asked !== this.latest) return;
    this.output.removeAttribute('aria-busy');
    this.output.classList.toggle('dw-stale', !answer);
    if (answer) fill(this.output, answer.html);
  }

  /** The fields for one's own water content are only there when it is chosen. */
  #showOwn() {
    this.form.classList.toggle('dw-own-chosen', this.fields().becomes === 'own');
  }

  /** One empty row of ingredients is always there; the rest wait until it is filled. */
  #showRows() {
    let empty = 0;
    for (const row of this.form.querySelectorAll('.dw-pair')) {
      const filled = /** @type {HTMLSelectElement} */ (row.querySelector('select')).value !== '';
      /** @type {HTMLElement} */ (row).hidden = !filled && empty > 0;
      if (!filled) empty += 1;
    }
  }

  /** @returns {boolean} whether the address held a formula */
  #readAddress() {
    let found = false;
    for (const [name, value] of new URLSearchParams(location.search)) {
      const control = this.form.elements.namedItem(name);
      if (control instanceof HTMLInputElement || control instanceof HTMLSelectElement) {
        control.value = value;
        found = true;
      }
    }
    return found;
  }

  #writeAddress() {
    const address = new URL(location.href);
    for (const [name, value] of Object.entries(this.fields())) {
      if (value === this.original[name]) address.searchParams.delete(name);
      else address.searchParams.set(name, value);
    }
    history.replaceState(history.state, '', address);
  }

  #addButtons() {
    const bar = document.createElement('div');
    bar.className = 'dw-buttons';
    bar.append(
      button('Copy a link to this formula', () => this.#copyLink()),
      button('Print this sheet', () => print()),
      button('Start again', () => {
        this.form.reset();
        this.update();
      }),
    );
    this.form.append(bar);
  }

  async #copyLink() {
    this.#writeAddress();
    try {
      await navigator.clipboard.writeText(location.href);
      this.say('The link is copied.');
    } catch {
      this.say('The link stands in the address bar: copy it from there.');
    }
  }
}

/**
 * @param {string} text
 * @param {() => void} act
 */
function button(text, act) {
  const made = document.createElement('button');
  made.type = 'button';
  made.className = 'dw-button dw-quiet';
  made.textContent = text;
  made.addEventListener('click', act);
  return made;
}
