// <check-question>: a question in a lesson, marked in its place. Answers stay on this device; in a package the
// school's system keeps them (shared/school-lesson.js).

import {LivePart} from './shared/live-part.js';
import {ReadBack, putAnswers, showMarking, showVerdicts, stillWritten} from './shared/problem-form.js';
import {stillness} from './shared/pressed.js';
import {pairs, recall, remember} from './shared/store.js';

const NOTHING = {answers: {}, marked: {}, tries: 0, verdicts: {}};

class CheckQuestion extends LivePart {
  begin() {
    this.form = /** @type {HTMLFormElement} */ (this.querySelector('form'));
    this.querySelector(':scope > details')?.remove();
    this.told = Boolean(this.closest('school-set'));
    this.#take(this.told ? NOTHING : recall(this.#shelf, NOTHING));
    this.readBack = new ReadBack(() => this.engine.ask({part: this.localName, fields: this.#fields('read')}));
    this.#show();
    this.form.addEventListener('input', (event) => this.#typed(/** @type {HTMLInputElement} */ (event.target)));
    this.form.addEventListener('submit', (event) => this.#submitted(event));
  }

  /** @param {typeof NOTHING} kept */
  #take(kept) {
    this.answers = pairs(kept.answers, 'string');
    this.marked = pairs(kept.marked, 'string');
    this.tries = Number(kept.tries) || 0;
    this.verdicts = pairs(kept.verdicts, 'string');
  }

  #show() {
    const form = /** @type {HTMLFormElement} */ (this.form);
    putAnswers(form, this.answers);
    showVerdicts(form, this.verdicts);
  }

  /**
   * Go on from what the school's system kept.
   * @param {typeof NOTHING} kept
   */
  restore(kept) {
    this.#take(kept);
    this.#show();
  }

  get #shelf() {
    return `check/${['problem', 'draw', 'blank'].map((name) => this.getAttribute(name) ?? '').join('/')}`;
  }

  /** @param {HTMLInputElement} [box] */
  #typed(box) {
    this.answers = /** @type {Record<string, string>} */ (Object.fromEntries(new FormData(this.form)));
    if (box) {
      for (const each of this.form.querySelectorAll(`[name="${CSS.escape(box.name)}"]`)) each.removeAttribute('data-verdict');
      delete this.verdicts[box.name];
      this.readBack.typed(box);
    }
    this.#keep();
  }

  /** @param {boolean} [isMarked] whether it was marked just now */
  #keep(isMarked = false) {
    const {answers, marked, tries, verdicts} = this;
    const question = {answers: {...answers}, marked: {...marked}, tries, verdicts: {...verdicts}};
    if (this.told) this.dispatchEvent(new CustomEvent('question', {bubbles: true, detail: {question, marked: isMarked}}));
    else remember(this.#shelf, question);
  }

  /** @param {string} action */
  #fields(action) {
    const named = ['problem', 'draw', 'blank'].map((name) => [name, this.getAttribute(name) ?? '']);
    return {
      action, ...Object.fromEntries(named),
      answers: JSON.stringify(this.answers), marked: JSON.stringify(this.marked), counts: JSON.stringify({tries: this.tries}),
    };
  }

  /** @param {Event} event */
  async #submitted(event) {
    event.preventDefault();
    const sent = {...this.answers};
    const isStill = stillness();
    const answer = await this.ask(this.#fields('mark'));
    if (!answer) return;
    this.marked = sent;
    this.tries = answer.tries;
    this.verdicts = stillWritten(this.form, answer.verdicts, sent);
    this.#keep(true);
    showMarking(this.form, {...answer, verdicts: this.verdicts}, isStill);
  }
}

customElements.define('check-question', CheckQuestion);
