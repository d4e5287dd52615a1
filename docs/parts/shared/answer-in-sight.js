// What a part says is always in sight, and once: the line at the foot of the window says what is not seen in its
// place, an answer or a complaint.

// What the site's header covers of the window, and the line itself.
const COVERED = '-60px 0px -60px 0px';

/** Tells an element's line whether its answer is in the window. */
export class AnswerInSight {
  /**
   * @param {HTMLElement} line
   * @param {'data-answer-in-sight' | 'data-complaint-in-sight'} told the line's attribute that says so
   */
  constructor(line, told = 'data-answer-in-sight') {
    this.told = told;
    this.observer = new IntersectionObserver(
      (entries) => line.toggleAttribute(told, Boolean(entries.at(-1)?.isIntersecting)),
      {rootMargin: COVERED, threshold: 1},
    );
    this.line = line;
    /** @type {Element | null} */
    this.watched = null;
  }

  /** @param {Element | null} place of what is said first; none while there is nothing to say */
  watch(place) {
    if (place && place === this.watched) return;
    this.watched = place;
    this.observer.disconnect();
    if (place) this.observer.observe(place);
    else this.line.removeAttribute(this.told);
  }
}
