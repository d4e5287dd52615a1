// The way through a set: one problem in view, ticks for all, and the browser's Back. Without this script,
// and on paper, the set is one page.

import {fill} from './live-part.js';
import {recall, remember} from './store.js';

const ALL = 'set-shows-all';
const FINISH = 'finish';

export class SetWay {
  /** @param {HTMLElement & {packed: string, name: string, gone?: AbortController}} part */
  constructor(part) {
    this.part = part;
    this.ticks = /** @type {HTMLAnchorElement[]} */ ([...part.querySelectorAll('[data-tick]')]);
    this.all = recall(ALL, false);
    this.#hearChoice();
    const signal = part.gone?.signal;
    part.addEventListener('click', (event) => this.#clicked(/** @type {MouseEvent} */ (event)), {signal});
    // What is searched for in the page opens the problem that holds it.
    part.addEventListener('beforematch', (event) => this.#found(event), {signal});
    addEventListener('popstate', () => this.#follow(), {signal});
    addEventListener('hashchange', () => this.#follow(), {signal});
    const writing = this.#writing();
    this.at = writing?.dataset.problem || this.#named() || this.#first();
    this.show();
    if (writing) document.activeElement?.scrollIntoView({block: 'nearest'});
  }

  /** @returns {HTMLFormElement | null | undefined} the problem that the student writes in already: this script may come late */
  #writing() {
    const form = /** @type {HTMLFormElement | null | undefined} */ (document.activeElement?.closest('form[data-problem]'));
    return this.part.contains(form ?? null) ? form : null;
  }

  /** @returns {number} of the problem in view; the last one's at the finish */
  get number() {
    return this.#place(this.at) + 1 || this.ticks.length;
  }

  /**
   * @param {string} id
   * @returns {boolean} whether nothing was written in a problem yet
   */
  untouched(id) {
    return this.ticks[this.#place(id)]?.dataset.state === 'none';
  }

  /** @returns {(HTMLElement | null)[]} the problems in their order */
  get #problems() {
    return this.ticks.map(({dataset}) => this.part.querySelector(`form[data-problem="${CSS.escape(dataset.tick ?? '')}"]`));
  }

  /** @param {string} id */
  #place(id) {
    return this.ticks.findIndex(({dataset}) => dataset.tick === id);
  }

  /** @returns {string} the problem that the history or the address names */
  #named() {
    const {problem} = history.state ?? {};
    if (problem === FINISH || this.#place(problem) >= 0) return problem;
    const asked = location.hash.slice(1);
    const numbered = /^problem-(\d+)$/.exec(asked);
    if (numbered) return this.ticks[Number(numbered[1]) - 1]?.dataset.tick ?? '';
    const target = asked ? document.getElementById(asked)?.closest('form') : null;
    if (target && this.part.contains(target)) return target.dataset.problem ?? '';
    return this.ticks.find(({hash}) => hash === location.hash && hash)?.dataset.tick ?? '';
  }

  /** @returns {string} where the student was, else the first problem */
  #first() {
    const at = recall(`set-at/${this.part.name}`, '');
    return this.#place(at) >= 0 ? at : this.ticks[0]?.dataset.tick ?? '';
  }

  /** Show the problem in view, and no other; all where the reader wants all. */
  show() {
    const finish = this.#finish();
    // A finish that Python has not written yet shows the last problem, never an empty page.
    if (this.at === FINISH && !finish.childElementCount && !this.all) {
      this.at = this.ticks.at(-1)?.dataset.tick ?? '';
    }
    for (const [number, form] of this.#problems.entries()) {
      if (!form) continue;
      if (this.all || this.ticks[number].dataset.tick === this.at) form.removeAttribute('hidden');
      else form.setAttribute('hidden', 'until-found');
    }
    for (const tick of this.ticks) {
      if (tick.dataset.tick === this.at) tick.setAttribute('aria-current', 'step');
      else tick.removeAttribute('aria-current');
    }
    finish.hidden = !finish.childElementCount || !(this.all || this.at === FINISH);
  }

  #finish() {
    return /** @type {HTMLElement} */ (this.part.querySelector('[data-finish]'));
  }

  /**
   * Show in ticks and finish what Python tells.
   * @param {Record<string, any>} answer
   */
  take({states, ticks, finish}) {
    for (const tick of this.ticks) {
      const id = tick.dataset.tick ?? '';
      tick.dataset.state = states[id] ?? 'none';
      tick.setAttribute('aria-label', ticks[id] ?? '');
    }
    fill(this.#finish(), finish);
    const picture = this.part.querySelector(':scope > [data-picture="finish"] > *');
    if (finish && picture) this.#finish().prepend(picture.cloneNode(true));
    this.show();
  }

  /**
   * Bring a problem, or the finish, into view and to the focus.
   * @param {string} id
   */
  open(id) {
    this.at = id;
    remember(`set-at/${this.part.name}`, id);
    this.show();
    const place = id === FINISH ? this.#finish() : this.#problems[this.#place(id)];
    const heading = /** @type {HTMLElement | null | undefined} */ (place?.querySelector('h3'));
    heading?.setAttribute('tabindex', '-1');
    heading?.focus({preventScroll: true});
    heading?.scrollIntoView({block: 'start'});
  }

  #follow() {
    const named = this.#named();
    if (named && named !== this.at) this.open(named);
  }

  /** @param {Event} event */
  #found(event) {
    const problem = /** @type {HTMLElement} */ (event.target).closest('form')?.dataset.problem;
    if (!problem) return;
    this.at = problem;
    this.show();
  }

  /** @param {MouseEvent} event */
  #clicked(event) {
    const link = /** @type {HTMLElement} */ (event.target).closest('a');
    const id = link?.dataset.tick ?? link?.dataset.next;
    if (!link || !id || event.ctrlKey || event.metaKey || event.shiftKey) return;
    event.preventDefault();
    // The address of a given set holds the set itself: it stays.
    history.pushState({problem: id}, '', this.part.packed ? location.href : link.hash);
    this.open(id);
  }

  #hearChoice() {
    const choice = /** @type {HTMLButtonElement} */ (this.part.querySelector('[data-show-all]'));
    choice.setAttribute('aria-pressed', String(this.all));
    choice.addEventListener('click', () => {
      this.all = !this.all;
      remember(ALL, this.all);
      choice.setAttribute('aria-pressed', String(this.all));
      this.show();
    });
  }
}
