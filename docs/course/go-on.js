// <go-on>: on the Start page, the way back into the set or the lesson that was left last on this device.

import {counted} from '../page/counted.js';
import {standings} from '../parts/shared/standing.js';
import {lessonsBegun} from '../parts/shared/lesson-place.js';

const SITE = new URL('..', import.meta.url);

/** @typedef {{when: number, address: string, words: string, said: string}} Way back to what was begun */

class GoOn extends HTMLElement {
  connectedCallback() {
    const place = /** @type {HTMLElement} */ (this.querySelector('p'));
    const link = /** @type {HTMLAnchorElement} */ (place.querySelector('a'));
    const begun = [...ofSets(JSON.parse(place.dataset.sets ?? '{}')), ...ofLessons(JSON.parse(place.dataset.lessons ?? '{}'))];
    const [last] = begun.sort((one, other) => other.when - one.when);
    if (!last) return;
    link.href = new URL(last.address, SITE).href;
    link.textContent = last.words;
    place.append(` ${last.said}`);
    place.hidden = false;
  }
}

/**
 * @param {Record<string, string>} titles
 * @returns {Way[]}
 */
function ofSets(titles) {
  const begun = Object.entries(standings()).filter(([set, {earned, outOf}]) => titles[set] && earned < outOf);
  return begun.map(([set, {at, earned, outOf, when}]) => ({
    when,
    address: `practice/${set}/#problem-${at}`,
    words: `Go on with ${titles[set]}, problem ${at}`,
    said: `${earned} of ${counted(outOf, 'mark')} so far.`,
  }));
}

/**
 * @param {Record<string, string>} titles
 * @returns {Way[]}
 */
function ofLessons(titles) {
  const begun = Object.entries(lessonsBegun()).filter(([lesson, {step, of}]) => titles[lesson] && step < of);
  return begun.map(([lesson, {step, of, when}]) => ({
    when,
    address: `lessons/${lesson}/`,
    words: `Go on with the lesson ${titles[lesson]}`,
    said: `You were at step ${step} of ${of}.`,
  }));
}

customElements.define('go-on', GoOn);
