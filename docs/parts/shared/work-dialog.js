// A student's work in a window of its own: one problem or all, on to the next student, and marks changed by hand.

import {button} from './form-part.js';
import {fill} from './live-part.js';

/** A problem's work as HTML, its marks, and why a teacher changed them. @typedef {{html: string, marks: number, out_of: number, reason: string}} Piece */
/** @typedef {{students: string[], problems: {id: string, title: string}[], work: Piece[][]}} Work */
/** @typedef {{change: (change: {student: string, problem: string, marks: string, reason: string}) => Promise<void>, print: (student: string) => void}} Acts */

export class WorkDialog {
  /** @type {Work} */
  #work = {students: [], problems: [], work: []};
  #student = 0;
  /** @type {number | null} */
  #problem = null;
  #acts;

  /**
   * @param {HTMLDialogElement} dialog
   * @param {Acts} acts
   */
  constructor(dialog, acts) {
    this.#acts = acts;
    this.dialog = dialog;
    this.title = /** @type {HTMLElement} */ (dialog.querySelector('#work-title'));
    this.body = /** @type {HTMLElement} */ (dialog.querySelector('[data-work]'));
    this.form = /** @type {HTMLFormElement} */ (dialog.querySelector('form'));
    this.complaint = /** @type {HTMLElement} */ (dialog.querySelector('[data-wrong]'));
    this.undo = button('Undo the change', () => this.#change('', ''));
    this.form.querySelector('.dw-buttons')?.append(this.undo);
    this.form.addEventListener('submit', (event) => {
      event.preventDefault();
      this.#give();
    });
    this.before = button('Before', () => this.#show(this.#student - 1));
    this.after = button('Next', () => this.#show(this.#student + 1));
    const foot = document.createElement('div');
    foot.className = 'dw-buttons';
    foot.append(this.before, this.after, button('Print this page', () => this.#print()));
    dialog.querySelector('[data-close]')?.addEventListener('click', () => dialog.close());
    dialog.append(foot);
  }

  /** @param {Work} work marked anew: what is read and written meanwhile stays as it is */
  take(work) {
    this.#work = work;
    if (!this.dialog.open) return;
    const boxes = ['marks', 'reason'].map((name) => this.#box(name));
    const written = boxes.map(({value, defaultValue}) => (value === defaultValue ? null : value));
    const {scrollTop} = this.body;
    this.#show(Math.min(this.#student, work.students.length - 1));
    boxes.forEach((box, n) => {
      box.value = written[n] ?? box.value;
    });
    this.body.scrollTop = scrollTop;
  }

  /**
   * @param {number} student
   * @param {number | null} problem null for all of them
   */
  open(student, problem) {
    this.#problem = problem;
    this.#show(student);
    if (!this.dialog.open) this.dialog.showModal();
  }

  /** @param {number} student */
  #show(student) {
    const {students, work} = this.#work;
    this.#student = student;
    this.title.textContent = students[student];
    for (const [each, to] of /** @type {const} */ ([[this.before, student - 1], [this.after, student + 1]])) {
      each.setAttribute('aria-label', `${each.textContent}: ${students[to] ?? 'nobody'}`);
    }
    const pieces = this.#problem === null ? work[student] : [work[student][this.#problem]];
    fill(this.body, pieces.map(({html}) => html).join(''));
    this.body.scrollTop = 0;
    this.before.disabled = student === 0;
    this.after.disabled = student === students.length - 1;
    // A mark of a whole set cannot be changed, nor all at once.
    const isProblem = this.#problem !== null && Boolean(this.#work.problems[this.#problem].id);
    this.form.hidden = !isProblem;
    if (isProblem) this.#showMarks(pieces[0]);
  }

  /** @param {string} name */
  #box(name) {
    return /** @type {HTMLInputElement} */ (this.form.elements.namedItem(name));
  }

  /** @param {Piece} piece */
  #showMarks({marks, out_of, reason}) {
    for (const [name, text] of [['marks', String(marks)], ['reason', reason]]) {
      const box = this.#box(name);
      box.defaultValue = box.value = text;
    }
    this.undo.hidden = !reason;
    this.complaint.textContent = '';
    const most = this.form.querySelector('[data-most]');
    if (most) most.textContent = `of ${out_of}`;
  }

  /** A change needs marks that can be given, and a reason. */
  #give() {
    const piece = this.#work.work[this.#student][/** @type {number} */ (this.#problem)];
    const marks = this.#box('marks').value.trim().replace(',', '.');
    const reason = this.#box('reason').value.trim();
    if (!/^\d+(\.\d+)?$/.test(marks) || Number(marks) > piece.out_of) this.#complain('marks', `Write a number from 0 to ${piece.out_of}.`);
    else if (!reason) this.#complain('reason', 'Write why: the student reads it too.');
    else this.#change(marks, reason);
  }

  /**
   * @param {string} name
   * @param {string} text
   */
  #complain(name, text) {
    this.complaint.textContent = text;
    this.#box(name).focus();
  }

  /**
   * @param {string} marks
   * @param {string} reason
   */
  #change(marks, reason) {
    const {students, problems} = this.#work;
    const problem = problems[/** @type {number} */ (this.#problem)].id;
    return this.#acts.change({student: students[this.#student], problem, marks, reason});
  }

  #print() {
    this.dialog.close();
    this.#acts.print(this.#work.students[this.#student]);
  }
}
