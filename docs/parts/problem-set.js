// <problem-set>: a student's numbers, answers and marks. Answers stay on this device.

import {download} from './shared/download.js';
import {LivePart, fill} from './shared/live-part.js';
import {ReadBack, countHint, now, putAnswers, showMarking, showVerdicts} from './shared/problem-form.js';
import {pairs, recall, remember} from './shared/store.js';
import {addAttempts} from './shared/study-log.js';

/** @typedef {Record<string, Record<string, string>>} Answers */

class ProblemSet extends LivePart {
  begin() {
    this.name = this.getAttribute('name') ?? '';
    // A set that a student was given comes along as letters, and is known by what it asks.
    this.packed = this.getAttribute('packed') ?? '';
    this.place = this.packed ? `given/${this.name}@${this.getAttribute('content')}` : `set/${this.name}`;
    this.who = /** @type {HTMLInputElement} */ (this.querySelector('[name="student"]'));
    /** @type {Record<string, number>} */
    this.tries = {};
    /** @type {Answers} */
    this.answers = {};
    /** @type {Record<string, Record<string, number>>} how many hints of each step were opened */
    this.hints = {};
    /** @type {Answers} as they were last marked */
    this.marked = {};
    this.readBack = new ReadBack((form) => this.engine.ask({
      part: this.localName,
      fields: this.#fields('read', {problem: form.dataset.problem ?? ''}),
    }));
    this.addEventListener('input', (event) => this.#typed(event));
    this.addEventListener('submit', (event) => this.#submitted(event));
    // A toggle does not bubble: catch it on the way down.
    this.addEventListener('toggle', (event) => this.#hintOpened(event), {capture: true});
    this.who.addEventListener('change', () => this.#changeStudent());
    this.querySelector('[data-action="hand-in"]')?.addEventListener('click', () => this.#handIn());
    this.querySelector('[data-action="copy"]')?.addEventListener('click', () => this.#copy());
    if (this.who.value) {
      // It was typed before this script came.
      this.#changeStudent();
      return;
    }
    this.who.value = recall('student', '');
    this.#restore();
    if (this.who.value || Object.keys(this.marked).length) this.#draw();
  }

  get refusal() {
    return 'Not handed in yet.';
  }

  get student() {
    return this.who.value.trim();
  }

  get #shelf() {
    return this.#shelfOf(this.student);
  }

  /** @param {string} student */
  #shelfOf(student) {
    return `${this.place}/${student.toLowerCase()}`;
  }

  /** Answers to the sample numbers are not lost when a name brings others: say so beside the name. */
  #tellOfSamples() {
    const place = this.querySelector('[data-samples]');
    if (!place) return;
    const samples = pairs(recall(this.#shelfOf(''), {answers: {}}).answers, 'object');
    place.textContent = this.student && Object.keys(samples).length
      ? 'Your answers to the sample numbers are kept. Empty the name to see them again.'
      : '';
  }

  #restore() {
    const kept = recall(this.#shelf, {answers: {}, tries: {}, hints: {}, marked: {}});
    this.answers = pairs(kept.answers, 'object');
    this.tries = pairs(kept.tries, 'number');
    this.hints = pairs(kept.hints, 'object');
    this.marked = pairs(kept.marked, 'object');
    this.#showAnswers();
    this.#tellOfSamples();
  }

  #keep() {
    remember('student', this.who.value);
    const {answers, tries, hints, marked} = this;
    if (!remember(this.#shelf, {answers, tries, hints, marked})) {
      this.say('This device keeps nothing now. Save a hand-in file before you leave the page.', true);
    }
  }

  #showAnswers() {
    for (const form of this.#problems()) {
      putAnswers(form, this.answers[form.dataset.problem ?? ''] ?? {});
    }
  }

  /** @returns {NodeListOf<HTMLFormElement>} */
  #problems() {
    return this.querySelectorAll('form[data-problem]');
  }

  /**
   * @param {string} id
   * @returns {HTMLFormElement | null}
   */
  #problem(id) {
    return this.querySelector(`form[data-problem="${CSS.escape(id)}"]`);
  }

  /** @param {Event} event */
  #typed(event) {
    const box = /** @type {HTMLInputElement} */ (event.target);
    const form = box.closest('form');
    const problem = form?.dataset.problem;
    if (!problem) return;
    (this.answers[problem] ??= {})[box.name] = box.value;
    box.removeAttribute('data-verdict');
    this.readBack.typed(box);
    this.#keep();
  }

  /** @param {Event} event */
  #hintOpened(event) {
    const hint = /** @type {HTMLDetailsElement} */ (event.target);
    const problem = hint.closest('form')?.dataset.problem;
    if (!hint.dataset.step || !problem) return;
    countHint(hint, (this.hints[problem] ??= {}));
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
    const focused = /** @type {HTMLInputElement | null} */ (this.output.querySelector(':focus'));
    const problem = focused?.form?.dataset.problem;
    fill(this.output, answer.html);
    this.#showTotal(answer.total);
    this.#showAnswers();
    for (const form of this.#problems()) showVerdicts(form, answer.verdicts[form.dataset.problem ?? ''] ?? {});
    // Whoever writes on while the numbers come goes on writing in the same box.
    if (focused && problem) {
      const box = this.#problem(problem)?.querySelector(`[name="${CSS.escape(focused.name)}"]`);
      /** @type {HTMLInputElement | null | undefined} */ (box)?.focus();
    }
  }

  /** @param {Event} event */
  async #submitted(event) {
    event.preventDefault();
    const problem = /** @type {HTMLFormElement} */ (event.target).dataset.problem;
    if (!problem) {
      this.who.blur();
      return;
    }
    const {student} = this;
    const sent = {...this.answers[problem]};
    const answer = await this.#ask('mark', {problem, now: now()});
    // Another name has other numbers, and answers of its own.
    if (!answer || student !== this.student) return;
    this.tries[problem] = answer.tries;
    this.marked[problem] = sent;
    if (!addAttempts(answer.attempts)) this.say('Marked. This device cannot keep your practice log now.', true);
    this.#keep();
    // Numbers for a new name may have come meanwhile, in a form of their own.
    const form = this.#problem(problem);
    if (!form) return;
    showMarking(form, answer);
    this.#showTotal(answer.total);
  }

  async #handIn() {
    const answer = await this.#ask('hand-in', {now: now()});
    if (!answer) {
      this.who.focus();
      return;
    }
    download(answer.file, answer.filename);
  }

  async #copy() {
    const answer = await this.#ask('copy', {now: now()});
    if (!answer) {
      this.who.focus();
      return;
    }
    try {
      await navigator.clipboard.writeText(answer.text);
    } catch {
      this.#showText(answer.text);
    }
  }

  /**
   * A browser may refuse the clipboard: then the reader copies by hand.
   * @param {string} text
   */
  #showText(text) {
    const box = /** @type {HTMLTextAreaElement} */ (this.querySelector('[data-packed]'));
    box.hidden = false;
    box.value = text;
    box.select();
    this.say('Copy the text in the box, and paste it where your teacher asks for it.');
  }

  /**
   * @param {'draw' | 'mark' | 'hand-in' | 'copy'} action
   * @param {Record<string, string>} [more]
   */
  #ask(action, more = {}) {
    return this.ask(this.#fields(action, more));
  }

  /**
   * @param {string} action
   * @param {Record<string, string>} more
   * @returns {Record<string, string>} the work as Python reads it
   */
  #fields(action, more) {
    const {name, packed, student} = this;
    const [answers, marked, tries, hints] = [this.answers, this.marked, this.tries, this.hints].map((kept) => JSON.stringify(kept));
    return {action, name, packed, student, answers, marked, tries, hints, ...more};
  }

  /** @param {string} total */
  #showTotal(total) {
    const place = this.querySelector('[data-total]');
    if (place) place.textContent = total;
  }
}

customElements.define('problem-set', ProblemSet);
