// <go-on>: on the Start page, the way back into the set that the student of this device left last.

import {standings} from '../parts/shared/standing.js';

const SITE = new URL('..', import.meta.url);

class GoOn extends HTMLElement {
  connectedCallback() {
    const titles = JSON.parse(this.querySelector('[data-titles]')?.getAttribute('data-titles') ?? '{}');
    const place = /** @type {HTMLElement} */ (this.querySelector('p'));
    const link = /** @type {HTMLAnchorElement} */ (place.querySelector('a'));
    const begun = Object.entries(standings()).filter(([set, {earned, outOf}]) => titles[set] && earned < outOf);
    const [last] = begun.sort(([, one], [, other]) => other.when - one.when);
    if (!last) return;
    const [set, {at, earned, outOf}] = last;
    link.href = new URL(`practice/${set}/#problem-${at}`, SITE).href;
    link.textContent = `Go on with ${titles[set]}, problem ${at}`;
    place.append(` ${earned} of ${outOf} marks so far.`);
    place.hidden = false;
  }
}

customElements.define('go-on', GoOn);
