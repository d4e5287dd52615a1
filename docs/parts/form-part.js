// A part that is a form with a result: recomputes as the reader types, keeps its state in the address.

import {LivePart, fill} from './live-part.js';

const PAUSE = 120;
// A browser refuses an address that is too long, and then the rest of the form would not work.
const LONGEST_IN_ADDRESS = 500;

export class FormPart extends LivePart {
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
    this.arrange();
    if (changed) this.update();
  }

  /** Show and hide fields as the form's values want it; for each part to write. */
  arrange() {}

  /** @returns {Record<string, string>} */
  fields() {
    return /** @type {Record<string, string>} */ (Object.fromEntries(new FormData(this.form)));
  }

  /** Ask Python again; of several answers on the way, only the latest is shown. */
  async update() {
    this.arrange();
    this.#writeAddress();
    const asked = ++this.latest;
    this.output.setAttribute('aria-busy', 'true');
    const answer = await this.ask(this.fields());
    if (asked !== this.latest) return;
    this.output.removeAttribute('aria-busy');
    this.output.classList.toggle('dw-stale', !answer);
    if (answer) this.show(answer);
  }

  /**
   * Show Python's answer; a part with more than one place to fill writes its own.
   * @param {Record<string, any>} answer
   */
  show(answer) {
    fill(this.output, answer.html);
  }

  /** A second part in the page has an id, and its id before each name in the address. */
  get #prefix() {
    return this.id ? `${this.id}.` : '';
  }

  /** @returns {boolean} whether the address held a value for this form */
  #readAddress() {
    let found = false;
    for (const [name, value] of new URLSearchParams(location.search)) {
      if (!name.startsWith(this.#prefix)) continue;
      const control = this.form.elements.namedItem(name.slice(this.#prefix.length));
      if (control instanceof HTMLInputElement && control.type === 'checkbox') {
        control.checked = value === control.value;
      } else if (control instanceof HTMLInputElement || control instanceof HTMLSelectElement) {
        control.value = value;
      } else {
        continue;
      }
      found = true;
    }
    return found;
  }

  #writeAddress() {
    const address = new URL(location.href);
    const values = this.fields();
    for (const name of new Set([...Object.keys(values), ...Object.keys(this.original)])) {
      const value = values[name] ?? '';
      if (value === (this.original[name] ?? '') || value.length > LONGEST_IN_ADDRESS) address.searchParams.delete(this.#prefix + name);
      else address.searchParams.set(this.#prefix + name, value);
    }
    history.replaceState(history.state, '', address);
  }

  #addButtons() {
    const bar = document.createElement('div');
    bar.className = 'dw-buttons';
    bar.append(
      button('Copy a link to this', () => this.#copyLink()),
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
