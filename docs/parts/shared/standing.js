// How far a student is in each set: kept on this device, for the lists of sets and for the Start page.

import {plainName, recall, remember, shelves} from './store.js';

/** @typedef {{earned: number, outOf: number, done: number, begun: number, of: string, at: number, when: number}} Standing `at` is the problem's number */

const SHELF = 'standing/';

/** @param {string} student */
function shelfOf(student) {
  return `${SHELF}${plainName(student)}/`;
}

/**
 * @param {string} set
 * @param {string} student
 * @param {Omit<Standing, 'at' | 'when'>} standing
 * @param {number} at the number of the problem in view
 */
export function keepStanding(set, student, standing, at) {
  // A set that was only looked at is not begun.
  if (standing.done || standing.begun) remember(shelfOf(student) + set, {...standing, at, when: Date.now()});
}

/** @returns {Record<string, Standing>} how far the student of this device is, by set */
export function standings() {
  const start = shelfOf(recall('student', ''));
  const none = {earned: 0, outOf: 0, done: 0, begun: 0, of: '', at: 1, when: 0};
  const found = shelves(start).map((shelf) => [shelf.slice(start.length), recall(shelf, none)]);
  return Object.fromEntries(found.filter(([, one]) => Number(/** @type {Standing} */ (one).outOf) > 0));
}
