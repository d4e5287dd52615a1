// <pack-reader>: a nutrition panel in, its water content out.

import {FormPart} from './shared/form-part.js';
import {fill} from './shared/live-part.js';

class PackReader extends FormPart {
  /** The kind of panel that the form shows; nothing before it is first arranged. */
  panel = '';

  begin() {
    super.begin();
    const box = /** @type {HTMLTextAreaElement} */ (this.querySelector('.dw-paste textarea'));
    // What is typed there is no field of the form, so nothing is computed from it.
    box.addEventListener('input', (event) => event.stopPropagation());
    box.addEventListener('paste', () => setTimeout(() => this.#paste(box.value)));
    this.querySelector('[data-paste]')?.addEventListener('click', () => this.#paste(box.value));
  }

  /** Serving and sodium are on US panels only, salt on the others. */
  arrange() {
    const {panel, kind} = this.fields();
    // An older link may name a kind that is no longer on the list.
    if (!kind) this.put({kind: 'any'});
    if (this.panel && this.panel !== panel) this.#turnTo(panel, this.panel);
    this.panel = panel;
    this.form.classList.toggle('dw-us', panel === 'us');
  }

  /**
   * Another kind of panel was chosen: the example changes with it, and a reader's own figures stay.
   * @param {string} panel
   * @param {string} before
   */
  #turnTo(panel, before) {
    /** @type {Record<string, Record<string, string>>} */
    const examples = JSON.parse(this.form.dataset.examples ?? '{}');
    const now = this.fields();
    if (Object.entries(examples[before] ?? {}).every(([name, value]) => now[name] === value)) this.put(examples[panel] ?? {});
    else this.put(carried(panel === 'us', now));
  }

  /**
   * Fill the form from a panel's text; Python says what it did not understand.
   * @param {string} text
   */
  async #paste(text) {
    const before = this.fields();
    const answer = await this.ask({...before, pasted: text});
    if (!answer) return;
    fill(/** @type {HTMLElement} */ (this.querySelector('[data-pasted]')), answer.html);
    if (!Object.keys(answer.values).length) return;
    // What was corrected by hand meanwhile stays.
    const now = this.fields();
    this.put(Object.fromEntries(Object.entries(answer.values).filter(([name]) => now[name] === before[name])));
    this.panel = this.fields().panel;
    await this.update();
    this.say(`${answer.says} ${this.status.textContent}`, this.status.classList.contains('dw-trouble'));
  }
}

/**
 * What the other kind of panel has in another field.
 * @param {boolean} toUs
 * @param {Record<string, string>} now
 * @returns {Record<string, string>}
 */
function carried(toUs, {serving, sodium, salt}) {
  if (toUs) return {serving: serving || '100 g', sodium: sodium || (salt && `${salt} salt`)};
  return {salt: salt || (sodium && `${/^[\d.,\s]+$/.test(sodium) ? `${sodium} mg` : sodium} sodium`)};
}

customElements.define('pack-reader', PackReader);
