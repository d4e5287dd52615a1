// <problem-set>: a student's numbers, answers and marks. Answers stay on this device.

import {LivePart, fill} from './live-part.js';
import {recall, remember} from './store.js';

/** @typedef {Record<string, Record<string, string>>} Answers */

export class ProblemSet extends LivePart {
  begin() {
    this.name = this.getAttribute('name') ?? '';
    this.who = /** @type {HTMLInputElement} */ (this.querySelector('[name="student"]'));
    /** @type {Record<string, number>} */
    this.tries = {};
    /** @type {Answers} */
    this.answers = {};
    /** @type {Record<string, Record<string, number>>} how many hints of each step were opened */
    this.hints = {};
    this.addEventListener('input', (event) => this.#typed(event));
    this.addEventListener('submit', (event) => this.#submitted(event));
    // A toggle does not bubble: catch it on the way down.
    this.addEventListener('toggle', (event) => this.#hintOpened(event), {capture: true});
    this.who.addEventListener('change', () => this.#changeStudent());
    this.querySelector('[data-action="hand-in"]')?.addEventListener('click', () => this.#handIn());
    this.who.value = recall('student', '');
    this.#restore();
    if (this.who.value) this.#draw();
  }

  get student() {
    return this.who.value.trim();
  }

  get #shelf() {
    return `set/${this.name}/${this.student.toLowerCase()}`;
  }

  #restore() {
    const kept = recall(this.#shelf, {answers: {}, tries: {}, hints: {}});
    this.answers = kept.answers ?? {};
    this.tries = kept.tries ?? {};
    this.hints = kept.hints ?? {};
    this.#showAnswers();
  }

  #keep() {
    remember('student', this.who.value);
    if (!remember(this.#shelf, {answers: this.answers, tries: this.tries, hints: this.hints})) {
      this.say('This device keeps nothing just now. Save a hand-in file before you leave the page.', true);
    }
  }

  #showAnswers() {
    for (const form of this.#problems()) {
      const kept = this.answers[form.dataset.problem ?? ''] ?? {};
      for (const box of form.querySelectorAll('input, select')) {
        const control = /** @type {HTMLInputElement | HTMLSelectElement} */ (box);
        const text = kept[control.name] ?? '';
        if (control.type === 'radio') {
          /** @type {HTMLInputElement} */ (control).checked = control.value === text;
        } else {
          control.value = text;
        }
      }
    }
  }

  /** @returns {NodeListOf<HTMLFormElement>} */
  #problems() {
    return this.querySelectorAll('form[data-problem]');
  }

  /** @param {Event} event */
  #typed(event) {
    const box = /** @type {HTMLInputElement} */ (event.target);
    const form = box.closest('form');
    const problem = form?.dataset.problem;
    if (!problem) return;
    (this.answers[problem] ??= {})[box.name] = box.value;
    box.removeAttribute('data-verdict');
    this.#keep();
  }

  /** @param {Event} event */
  #hintOpened(event) {
    const hint = /** @type {HTMLDetailsElement} */ (event.target);
    const problem = hint.closest('form')?.dataset.problem;
    const {step, level} = hint.dataset;
    if (!hint.open || !problem || !step) return;
    const opened = (this.hints[problem] ??= {});
    opened[step] = Math.max(opened[step] ?? 0, Number(level));
    this.#keep();
  }

  async #changeStudent() {
    this.#restore();
    this.#keep();
    await this.#draw();
  }

  async #draw() {
    const answer = await this.#ask('draw');
    if (!answer) return;
    fill(this.output, answer.html);
    this.#showTotal(answer.total);
    this.#showAnswers();
  }

  /** @param {Event} event */
  async #submitted(event) {
    event.preventDefault();
    const form = /** @type {HTMLFormElement} */ (event.target);
    const problem = form.dataset.problem;
    if (!problem) {
      this.who.blur();
      return;
    }
    const tries = (this.tries[problem] ?? 0) + 1;
    const answer = await this.#ask('mark', {problem, tries: String(tries)});
    if (!answer) return;
    if (answer.counts) this.tries[problem] = tries;
    this.#keep();
    fill(/** @type {HTMLElement} */ (form.querySelector('[data-feedback]')), answer.html);
    for (const [step, verdict] of Object.entries(answer.verdicts)) {
      for (const box of form.querySelectorAll(`[name="${CSS.escape(step)}"]`)) {
        box.setAttribute('data-verdict', verdict);
      }
    }
    this.#showTotal(answer.total);
  }

  async #handIn() {
    const answer = await this.#ask('hand-in');
    if (!answer) {
      this.who.focus();
      return;
    }
    const link = document.createElement('a');
    link.href = URL.createObjectURL(new Blob([answer.file], {type: 'application/json'}));
    link.download = answer.filename;
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
  }

  /**
   * @param {'draw' | 'mark' | 'hand-in'} action
   * @param {Record<string, string>} [more]
   */
  #ask(action, more = {}) {
    const {name, student} = this;
    return this.ask({action, name, student, answers: JSON.stringify(this.answers), hints: JSON.stringify(this.hints), ...more});
  }

  /** @param {string} total */
  #showTotal(total) {
    const place = this.querySelector('[data-total]');
    if (place) place.textContent = total;
  }
}
