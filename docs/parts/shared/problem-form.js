// What the forms of problems have in common: kept answers put back, verdicts shown, hints counted.

import {fill} from './live-part.js';

/**
 * @param {HTMLFormElement} form
 * @param {Record<string, string>} answers by the names of the boxes
 */
export function putAnswers(form, answers) {
  for (const box of form.querySelectorAll('input, select, textarea')) {
    const control = /** @type {HTMLInputElement | HTMLSelectElement} */ (box);
    const text = answers[control.name] ?? '';
    if (control.type === 'radio') {
      /** @type {HTMLInputElement} */ (control).checked = control.value === text;
    } else {
      control.value = text;
    }
  }
}

/**
 * @param {HTMLFormElement} form
 * @param {Record<string, string>} verdicts by the names of the boxes
 */
export function showVerdicts(form, verdicts) {
  for (const [step, verdict] of Object.entries(verdicts)) {
    for (const box of form.querySelectorAll(`[name="${CSS.escape(step)}"]`)) {
      box.setAttribute('data-verdict', verdict);
    }
  }
}

/**
 * Put in a problem what its marking says, with the first of it in sight.
 * @param {HTMLFormElement} form
 * @param {Record<string, any>} answer
 */
export function showMarking(form, {html, verdicts}) {
  const place = /** @type {HTMLElement} */ (form.querySelector('[data-feedback]'));
  fill(place, html);
  showVerdicts(form, verdicts);
  place.firstElementChild?.scrollIntoView({block: 'nearest'});
}

/**
 * Note that a hint was opened; `opened` holds the largest of each step.
 * @param {HTMLDetailsElement} hint
 * @param {Record<string, number>} opened
 */
export function countHint(hint, opened) {
  const {step, level} = hint.dataset;
  if (hint.open && step) opened[step] = Math.max(opened[step] ?? 0, Number(level));
}

// A student who stops for so long has written a number.
const PAUSE = 400;

/**
 * Tells beside each box of a form how what is typed is read, before anything is marked.
 */
export class ReadBack {
  /** @param {(form: HTMLFormElement) => Promise<Record<string, any>>} ask asks Python, with what the boxes hold */
  constructor(ask) {
    this.ask = ask;
    /** @type {ReturnType<typeof setTimeout> | undefined} */
    this.waiting = undefined;
  }

  /** @param {HTMLInputElement} box where something was typed */
  typed(box) {
    if (!box.form) return;
    const {form} = box;
    const place = form.querySelector(`[data-read="${CSS.escape(box.name)}"]`);
    if (!place) return;
    place.textContent = '';
    clearTimeout(this.waiting);
    this.waiting = setTimeout(() => this.#show(form), PAUSE);
  }

  /** @param {HTMLFormElement} form */
  async #show(form) {
    const before = this.waiting;
    try {
      const {read} = await this.ask(form);
      if (before !== this.waiting) return;
      for (const place of form.querySelectorAll('[data-read]')) {
        const says = read[/** @type {HTMLElement} */ (place).dataset.read ?? ''] ?? '';
        if (place.textContent !== says) place.textContent = says;
      }
    } catch {
      // Marking tells it in any case, and says what is wrong where Python does not answer.
    }
  }
}

/** @returns {string} the time as Python takes it: whole seconds since 1970 */
export function now() {
  return String(Math.floor(Date.now() / 1000));
}
