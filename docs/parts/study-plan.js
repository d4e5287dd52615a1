// <study-plan>: progress in each skill, what to practise next, and one problem at a time with new numbers.

import {named} from '../page/address.js';
import {LIMITS} from '../page/limits.js';
import {download} from './shared/download.js';
import {LivePart, fill} from './shared/live-part.js';
import {ReadBack, countHint, now, placeVerdicts, putAnswers, showMarking, showVerdicts, stillWritten} from './shared/problem-form.js';
import {stillness} from './shared/pressed.js';
import {pairs, recall, remember} from './shared/store.js';
import {addAttempts, emptyLog, logFields, onOtherTab} from './shared/study-log.js';

const SHELF = 'study/problem';
const NOT_KEPT = 'This device cannot keep your log now. Save the log to a file before you leave the page.';

/**
 * The problem on the screen: which one, the name that drew its numbers, what was typed, and what of it was marked.
 * @typedef {{problem: string, draw: string, tries: number, answers: Record<string, string>, marked: Record<string, string>, hints: Record<string, number>}} Current
 */

class StudyPlan extends LivePart {
  begin() {
    this.plan = /** @type {HTMLElement} */ (this.querySelector('[data-plan]'));
    this.dialog = /** @type {HTMLDialogElement} */ (this.querySelector('dialog'));
    this.skipped = 0;
    /** @type {import('./shared/study-log.js').Attempt[]} what "Undo" brings back */
    this.removed = [];
    /** @type {Current} */
    this.current = this.#kept();
    this.addEventListener('click', (event) => this.#clicked(event));
    this.readBack = new ReadBack(() => this.engine.ask({part: this.localName, fields: {action: 'read', ...this.#work()}}));
    this.addEventListener('input', (event) => this.#typed(event));
    this.addEventListener('submit', (event) => this.#submitted(event));
    // A toggle does not bubble: catch it on the way down.
    this.addEventListener('toggle', (event) => this.#hintOpened(event), {capture: true});
    this.querySelector('input[type="file"]')?.addEventListener('change', (event) => this.#import(event));
    this.dialog.addEventListener('close', () => {
      if (this.dialog.returnValue === 'reset') this.#reset();
    });
    if (this.gone) onOtherTab(() => this.#ask('plan'), this.gone.signal);
    this.#open();
  }

  /** @returns {Current} the problem that was on the screen when the page was left, as far as it is one */
  #kept() {
    const {problem, draw, tries, answers, marked, hints} = /** @type {Partial<Current>} */ (recall(SHELF, {}));
    return {
      problem: typeof problem === 'string' ? problem : '',
      draw: typeof draw === 'string' ? draw : '',
      tries: Number.isInteger(tries) ? Number(tries) : 0,
      answers: pairs(answers, 'string'),
      marked: pairs(marked, 'string'),
      hints: pairs(hints, 'number'),
    };
  }

  async #open() {
    const {problem, draw} = this.current;
    // A link from a set names a problem to practise with new numbers.
    const wanted = named();
    if (/^[a-z0-9-]+\/[a-z0-9-]+$/.test(wanted)) {
      history.replaceState(history.state, '', location.pathname + location.search);
      await this.#practise('', wanted);
    } else if (problem && draw) {
      const answer = await this.#ask('show', this.#work());
      if (answer) this.#show(answer);
    } else {
      await this.#ask('plan');
    }
  }

  /**
   * Ask Python with the log as it is now, add what is to be logged, and show the plan.
   * @param {'plan' | 'practise' | 'show' | 'mark' | 'import' | 'export'} action
   * @param {Record<string, string>} [more]
   */
  async #ask(action, more = {}) {
    const answer = await this.ask({action, now: now(), student: recall('student', ''), ...logFields(), ...more});
    if (!answer) return null;
    fill(this.plan, answer.plan);
    const place = this.querySelector('[data-counted]');
    if (place) place.textContent = answer.counted;
    if (answer.trouble) this.say(answer.trouble, true);
    if (!addAttempts(answer.attempts ?? [])) this.say(NOT_KEPT, true);
    return answer;
  }

  /** @param {Record<string, any>} answer */
  #show(answer) {
    fill(this.output, answer.html, () => {
      const form = this.#form();
      if (form) putAnswers(form, this.current.answers);
    });
    const form = this.#form();
    if (!form) return;
    placeVerdicts(form);
    showVerdicts(form, stillWritten(form, answer.verdicts, this.current.marked));
  }

  /** @returns {Record<string, string>} the problem on the screen, as Python reads it */
  #work() {
    const {problem, draw, tries, answers, marked, hints} = this.current;
    return {
      problem, draw, tries: String(tries),
      answers: JSON.stringify(answers), marked: JSON.stringify(marked), hints: JSON.stringify(hints),
    };
  }

  /** @returns {HTMLFormElement | null} */
  #form() {
    return this.output.querySelector('form[data-problem]');
  }

  #keep() {
    // What is typed stays on the screen whether it is kept or not; only a log that is not kept is told.
    remember(SHELF, this.current);
  }

  /**
   * @param {string} skill
   * @param {string} [exercise] the problem, where it is to be that one
   */
  async #practise(skill, exercise = '') {
    // Pressed again meanwhile: the last one counts, so that no problem goes when it was only just there.
    const mine = (this.wanted = Symbol('problem'));
    const isStill = stillness();
    const answer = await this.#ask('practise', {skill, exercise, draw: this.current.draw, skipped: String(this.skipped)});
    if (!answer || mine !== this.wanted) return;
    this.skipped += 1;
    this.current = {problem: answer.problem, draw: answer.draw, tries: 0, answers: {}, marked: {}, hints: {}};
    this.#keep();
    this.#show(answer);
    const heading = this.#form()?.querySelector('h3');
    heading?.setAttribute('tabindex', '-1');
    if (isStill()) heading?.focus();
  }

  /** @param {Event} event */
  #clicked(event) {
    const button = /** @type {HTMLElement} */ (event.target).closest('button');
    const {action, skill = '', exercise = ''} = button?.dataset ?? {};
    if (action === 'practise') this.#practise(skill, exercise);
    if (action === 'export') this.#export();
    if (action === 'reset') this.dialog.showModal();
    if (action === 'undo') this.#undo();
  }

  /** @param {Event} event */
  #typed(event) {
    const box = /** @type {HTMLInputElement} */ (event.target);
    if (!box.closest('form[data-problem]')) return;
    this.current.answers[box.name] = box.value;
    box.removeAttribute('data-verdict');
    this.readBack.typed(box);
    this.#keep();
  }

  /** @param {Event} event */
  #hintOpened(event) {
    const hint = /** @type {HTMLDetailsElement} */ (event.target);
    if (!hint.dataset.step) return;
    countHint(hint, this.current.hints);
    this.#keep();
  }

  /** @param {Event} event */
  async #submitted(event) {
    const form = /** @type {HTMLFormElement} */ (event.target);
    if (form.method === 'dialog') return;
    event.preventDefault();
    if (!form.dataset.problem) return;
    const sent = {...this.current.answers};
    const isStill = stillness();
    const answer = await this.#ask('mark', this.#work());
    if (!answer) return;
    if (form !== this.#form()) return;
    this.current.tries = answer.tries;
    this.current.marked = sent;
    if (answer.attempts.length) this.skipped = 0;
    this.#keep();
    showMarking(form, {...answer, verdicts: stillWritten(form, answer.verdicts, sent)}, isStill);
  }

  async #export() {
    const answer = await this.#ask('export');
    if (answer) download(answer.file, answer.filename);
  }

  /** @param {Event} event */
  async #import(event) {
    const input = /** @type {HTMLInputElement} */ (event.target);
    const file = input.files?.[0];
    if (!file) return;
    // One letter more than a log may have is enough for Python to refuse it.
    const text = await file.slice(0, LIMITS.practiceLog + 1).text();
    input.value = '';
    if (await this.#ask('import', {file: text})) await this.#refresh();
  }

  async #reset() {
    const removed = emptyLog();
    if (!removed) {
      this.say('This device does not let the page empty the log.', true);
      return;
    }
    this.removed = removed;
    const isStill = stillness();
    await this.#refresh('The log is empty.');
    this.#offerUndo(removed.length > 0, isStill());
  }

  async #undo() {
    const kept = addAttempts(this.removed);
    this.#offerUndo(false);
    await this.#refresh(kept ? 'Your log is back.' : NOT_KEPT);
  }

  /**
   * Show the plan for the log as it is now, and keep the line that was said, or say another.
   * @param {string} [says]
   */
  async #refresh(says = this.status?.textContent ?? '') {
    const trouble = this.status?.classList.contains('dw-trouble');
    if (await this.#ask('plan')) this.say(says, trouble);
  }

  /**
   * @param {boolean} offered
   * @param {boolean} [focused]
   */
  #offerUndo(offered, focused = false) {
    const undo = /** @type {HTMLButtonElement} */ (this.querySelector('[data-action="undo"]'));
    undo.hidden = !offered;
    if (offered && focused) undo.focus();
  }
}

customElements.define('study-plan', StudyPlan);
