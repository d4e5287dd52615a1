// How far a reader is in each lesson: kept on this device, for the lesson, the list of lessons and the Start page.

import {recall, remember, shelves} from './store.js';

/** @typedef {{at: string, step: number, of: number, when: number}} LessonPlace `at` is the id of the step's heading */

const SHELF = 'lesson/';
/** @type {LessonPlace} */
const START = {at: '', step: 0, of: 0, when: 0};

/**
 * @param {string} lesson
 * @returns {LessonPlace}
 */
export function lessonPlace(lesson) {
  return {...START, ...recall(SHELF + lesson, START)};
}

/**
 * @param {string} lesson
 * @param {Omit<LessonPlace, 'when'>} place
 */
export function keepLessonPlace(lesson, place) {
  remember(SHELF + lesson, {...place, when: Date.now()});
}

/** @returns {Record<string, LessonPlace>} the lessons that were begun: of one only opened, the first step is all there is */
export function lessonsBegun() {
  const found = shelves(SHELF).map((shelf) => shelf.slice(SHELF.length)).map((lesson) => [lesson, lessonPlace(lesson)]);
  return Object.fromEntries(found.filter(([, place]) => /** @type {LessonPlace} */ (place).step > 1));
}
