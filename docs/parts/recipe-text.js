// <recipe-text>: a recipe pasted as it is; each line with what it was read as, and questions to answer.

import {FormPart} from './shared/form-part.js';
import {fill, writtenIn} from './shared/live-part.js';
import {pairs, recall, remember} from './shared/store.js';

const SHELF = 'recipe';

class RecipeText extends FormPart {
  /** @type {Record<string, string>} what was answered, by the field's name, which holds the line */
  answers = {};

  begin() {
    super.begin();
    const box = this.#box;
    const kept = pairs(recall(SHELF, {}), 'string');
    if (kept.text && box.value === box.defaultValue) {
      ({text: box.value, ...this.answers} = /** @type {Record<string, string> & {text: string}} */ (kept));
      this.update();
    }
    if (box.value !== box.defaultValue) this.closest('details')?.setAttribute('open', '');
    // The example goes as soon as somebody means to write.
    box.addEventListener('focus', () => {
      if (box.value === box.defaultValue) box.select();
    });
    this.form.addEventListener('reset', () => {
      this.answers = {};
    });
    this.output.addEventListener('change', ({target}) => {
      if (!(target instanceof HTMLSelectElement || target instanceof HTMLInputElement)) return;
      this.answers[target.name] = target.value;
      this.update();
    });
  }

  /** @returns {HTMLTextAreaElement} */
  get #box() {
    return /** @type {HTMLTextAreaElement} */ (this.form.elements.namedItem('text'));
  }

  /**
   * @param {Record<string, string>} fields
   * @param {Parameters<FormPart['ask']>[1]} [along]
   */
  ask(fields, along) {
    const box = this.#box;
    remember(SHELF, box.value === box.defaultValue ? {} : {...this.answers, text: box.value});
    return super.ask({...fields, ...this.answers}, along);
  }

  /**
   * The answers' fields are written anew, and one may be half written.
   * @param {Record<string, any>} answer
   */
  show(answer) {
    fill(this.output, answer.html, writtenIn(this.output));
  }
}

customElements.define('recipe-text', RecipeText);
