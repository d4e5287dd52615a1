// A part that is a form with a result: recomputes as the reader types, keeps its state in the address.

import {LivePart, fill} from './live-part.js';
import {LINKED, carryOwn, isOwn, usesOwn} from './own.js';
import {printAlone} from './print-alone.js';

const PAUSE = 120;
// A browser refuses an address that is too long, and then the rest of the form would not work.
const LONGEST_IN_ADDRESS = 500;
const MISSING =
  'This link uses an ingredient that only its sender’s device has. Choose another one here. Or ask the sender for ' +
  'its file, read it on the page “Your ingredients”, and open the link again.';

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
    /** @type {Record<string, string>} */
    this.missing = {};
    const changed = this.#readAddress();
    this.arrange();
    if (Object.keys(this.missing).length) this.#tellMissing();
    else if (changed) this.update();
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
    this.did.textContent = '';
    const asked = ++this.latest;
    this.output.setAttribute('aria-busy', 'true');
    const answer = await this.ask(this.fields());
    if (asked !== this.latest) return;
    this.output.removeAttribute('aria-busy');
    this.output.classList.toggle('dw-stale', !answer);
    if (!answer) return;
    this.output.hidden = false;
    this.show(answer);
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
        if (control.value !== value && isOwn(value)) this.missing[control.name] = MISSING;
      } else {
        continue;
      }
      found = true;
    }
    return found;
  }

  /** A link to what this device does not have: the page's own example must not pass for the sender's dough. */
  #tellMissing() {
    this.output.hidden = true;
    this.complain(this.missing);
    this.say(MISSING, true);
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
    history.replaceState(history.state, '', address);
  }

  #addButtons() {
    const bar = document.createElement('div');
    bar.className = 'dw-buttons';
    // What a button did is told beside it, in sight; the result has its own line.
    this.did = document.createElement('span');
    this.did.className = 'dw-did';
    this.did.setAttribute('role', 'status');
    bar.append(
      button('Copy a link to this', () => this.#copyLink()),
      button('Print this sheet', () => printAlone(this)),
      button('Start again', () => {
        this.form.reset();
        this.update();
      }),
      this.did,
    );
    this.form.append(bar);
  }

  async #copyLink() {
    this.#writeAddress();
    try {
      await navigator.clipboard.writeText(location.href);
      this.did.textContent = `The link is copied. ${carried()}`.trim();
    } catch {
      this.did.textContent = 'The link stands in the address bar: copy it from there.';
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
