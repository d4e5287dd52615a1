// <lesson-steps>: shows one step of a lesson at a time, each at its own address, and goes on where one stopped. In a
// package the school's system keeps where that was.

import {named} from '../page/address.js';
import {openFold} from '../page/open-fold.js';
import {quietMoment} from '../page/quiet-moment.js';
import {keepLessonPlace, lessonPlace} from '../parts/shared/lesson-place.js';

class LessonSteps extends HTMLElement {
  connectedCallback() {
    /** @type {HTMLElement[]} */
    this.steps = [...this.querySelectorAll('section.dw-step')].map((each) => /** @type {HTMLElement} */ (each));
    if (!this.steps.length) return;
    this.lesson = this.getAttribute('lesson') ?? '';
    this.told = Boolean(this.closest('school-set'));
    this.all = this.querySelector('.dw-step-list button');
    this.all?.addEventListener('click', () => this.#show(this.dataset.at ? null : this.steps[0]));
    addEventListener('hashchange', () => this.#follow(true));
    // What the browser's own search finds in another step.
    this.addEventListener('beforematch', (event) => this.#show(this.#stepOf(/** @type {Element} */ (event.target))));
    const kept = this.told ? null : this.#stepOf(document.getElementById(lessonPlace(this.lesson).at));
    this.#show(kept ?? this.steps[0]);
    document.dispatchEvent(new Event('dw-lesson-awake'));
    this.#follow(false);
    this.#letFind();
  }

  /** The browser's own search finds what is in the other steps, from when the page has nothing better to do. */
  async #letFind() {
    await quietMoment();
    this.findable = true;
    for (const each of this.steps ?? []) if (each.hidden) each.setAttribute('hidden', 'until-found');
  }

  /**
   * Go on from where the school's system says one was, unless the address names another place.
   * @param {string} id of the step's heading
   */
  goTo(id) {
    const step = this.#stepOf(document.getElementById(id));
    if (step && !named()) this.#show(step);
  }

  /**
   * @param {Element | null} element
   * @returns {HTMLElement | null} the step that an element is in
   */
  #stepOf(element) {
    return this.steps?.find((each) => each.contains(element)) ?? null;
  }

  /**
   * Go to what the address names: a step, a heading in one, or what is folded below.
   * @param {boolean} focus whether the reader has just asked for it
   */
  #follow(focus) {
    const place = document.getElementById(named());
    if (!place) return;
    const step = this.#stepOf(place);
    if (step && this.dataset.at) this.#show(step);
    openFold(place);
    if (!focus && step === this.steps?.[0]) return;
    // Of a step one sees the bar and its heading.
    const isStep = this.steps?.some((each) => each.querySelector('h2') === place);
    (isStep && this.dataset.at ? this.querySelector('nav') ?? place : place).scrollIntoView();
    place.setAttribute('tabindex', '-1');
    if (focus) place.focus({preventScroll: true});
  }

  /** @param {HTMLElement | null} shown one step, or all of them */
  #show(shown) {
    const at = shown ? this.steps?.indexOf(shown) ?? 0 : -1;
    this.dataset.at = shown ? String(at + 1) : '';
    if (!shown) delete this.dataset.at;
    document.documentElement.classList.toggle('dw-one-step', Boolean(shown));
    for (const each of this.steps ?? []) {
      if (!shown || each === shown) each.removeAttribute('hidden');
      else each.setAttribute('hidden', this.findable ? 'until-found' : '');
    }
    this.querySelectorAll('.dw-step-list a').forEach((link, n) => {
      if (n === at) link.setAttribute('aria-current', 'step');
      else link.removeAttribute('aria-current');
    });
    if (this.all) this.all.textContent = shown ? 'Show all' : 'One at a time';
    if (shown) this.#keep({at: shown.querySelector('h2')?.id ?? '', step: at + 1, of: this.steps?.length ?? 0});
  }

  /** @param {{at: string, step: number, of: number}} place */
  #keep(place) {
    if (this.told) this.dispatchEvent(new CustomEvent('step', {bubbles: true, detail: place}));
    else keepLessonPlace(this.lesson ?? '', place);
  }
}

customElements.define('lesson-steps', LessonSteps);
