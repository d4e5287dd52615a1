// The bank of problems: what is shown of it, and what is ticked. What is ticked stays so when it is hidden.

import {counted} from '../../page/counted.js';

/** @param {HTMLElement} writer */
export function filterBank(writer) {
  const wanted = Object.fromEntries(
    [...writer.querySelectorAll('[data-filter]')].map((each) => {
      const filter = /** @type {HTMLInputElement} */ (each);
      return [filter.dataset.filter, filter.value.trim().toLowerCase()];
    }),
  );
  const words = wanted.words.split(/\s+/);
  const rows = /** @type {HTMLElement[]} */ ([...writer.querySelectorAll('.dw-bank > li')]);
  for (const row of rows) {
    const {lesson, skill, level, words: said = ''} = row.dataset;
    const fits = [[wanted.lesson, lesson], [wanted.skill, skill], [wanted.level, level]].every(([want, has]) => !want || want === has);
    row.hidden = !(fits && words.every((word) => said.includes(word)));
  }
  const found = writer.querySelector('[data-found]');
  const count = rows.filter((row) => !row.hidden).length;
  if (found) found.textContent = `${counted(count, 'problem')}.`;
}

/**
 * The keys of what is ticked; afterwards nothing is.
 * @param {HTMLElement} writer
 * @returns {string[]}
 */
export function ticked(writer) {
  const boxes = /** @type {HTMLInputElement[]} */ ([...writer.querySelectorAll('.dw-bank input:checked')]);
  for (const box of boxes) box.checked = false;
  return boxes.map((box) => box.value);
}
