// A student's work in a window of its own: one problem or all, and on to the next student.

import {fill} from './live-part.js';
import {button} from './form-part.js';

/** What Python gives of a marked class: names, titles, and the work of each student on each problem, as HTML. @typedef {{students: string[], problems: string[], work: string[][]}} Work */

export class WorkDialog {
  /** @type {Work} */
  #work = {students: [], problems: [], work: []};
  #student = 0;
  /** @type {number | null} */
  #problem = null;

  /** @param {HTMLDialogElement} dialog */
  constructor(dialog) {
    this.dialog = dialog;
    this.title = document.createElement('h3');
    this.title.id = 'work-title';
    this.body = document.createElement('div');
    this.body.tabIndex = 0;
    this.body.className = 'dw-work-body';
    this.foot = document.createElement('div');
    this.foot.className = 'dw-buttons';
    this.before = button('Student before', () => this.#show(this.#student - 1));
    this.after = button('Next student', () => this.#show(this.#student + 1));
    this.foot.append(this.before, this.after, button('Close', () => dialog.close()));
    dialog.append(this.title, this.body, this.foot);
  }

  /** @param {Work} work */
  take(work) {
    this.#work = work;
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
    const parts = this.#problem === null ? work[student] : [work[student][this.#problem]];
    fill(this.body, parts.join(''));
    this.body.scrollTop = 0;
    this.before.disabled = student === 0;
    this.after.disabled = student === students.length - 1;
  }
}
