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
    } else if (control.value !== text) {
      // The same text again would move the caret of whoever types.
      control.value = text;
      control.removeAttribute('data-verdict');
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
 * Each verdict goes under its box: where one writes is where one reads.
 * @param {HTMLFormElement} form
 */
export function placeVerdicts(form) {
  const said = [...form.querySelectorAll('[data-feedback] li[data-step]')];
  for (const place of form.querySelectorAll('[data-said]')) {
    const {said: key} = /** @type {HTMLElement} */ (place).dataset;
    place.replaceChildren(...said.filter((line) => /** @type {HTMLElement} */ (line).dataset.step === key));
  }
}

/**
 * What was written over while Python read it has no verdict yet.
 * @param {HTMLFormElement} form
 * @param {Record<string, string>} verdicts by the names of the boxes
 * @param {Record<string, string>} sent what Python read
 * @returns {Record<string, string>}
 */
export function stillWritten(form, verdicts, sent) {
  const now = new FormData(form);
  return Object.fromEntries(Object.entries(verdicts).filter(([name]) => (now.get(name) ?? '') === (sent[name] ?? '')));
}

/**
 * Put in a problem what its marking says, with a box and its verdict in sight together. What is done leads on:
 * its strong button has the focus, so that Enter goes on; whoever has gone on already stays there.
 * @param {HTMLFormElement} form
 * @param {Record<string, any>} answer
 * @param {() => boolean} isStill whether the reader did nothing since the marking was asked for
 */
export function showMarking(form, {html, verdicts, done}, isStill) {
  const place = /** @type {HTMLElement} */ (form.querySelector('[data-feedback]'));
  fill(place, html);
  placeVerdicts(form);
  showVerdicts(form, verdicts);
  if (done) for (const hint of form.querySelectorAll('details.dw-hint:not(.dw-instead)')) hint.removeAttribute('open');
  if (!isStill()) return;
  const onward = /** @type {HTMLElement | null} */ (place.querySelector('.dw-onward-button:not(.dw-quiet)'));
  onward?.focus({preventScroll: true});
  const said = verdictToSee(form);
  const box = said?.closest('.dw-field, .dw-question')?.querySelector('input:checked, input, select, textarea');
  // Where not all of it has room, the last one here counts most.
  for (const each of [onward, said ?? place.firstElementChild, box]) each?.scrollIntoView({block: 'nearest'});
}

/**
 * @param {HTMLFormElement} form
 * @returns {Element | undefined} the verdict on the first wrong box, else on the last one
 */
function verdictToSee(form) {
  const told = [...form.querySelectorAll('[data-said]')].filter((each) => each.childElementCount);
  return told.find((each) => each.querySelector('.dw-wrong, .dw-out-of-order, .dw-unread')) ?? told.at(-1);
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
