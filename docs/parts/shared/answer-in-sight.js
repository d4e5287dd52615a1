// The answer is always in sight: where it is not, the line at the foot of the window says it.

// What the site's header covers of the window, and the line itself.
const COVERED = '-60px 0px -60px 0px';

/** Tells an element's line whether its answer is in the window. */
export class AnswerInSight {
  /** @param {HTMLElement} line */
  constructor(line) {
    this.observer = new IntersectionObserver(
      (entries) => line.toggleAttribute('data-answer-in-sight', Boolean(entries.at(-1)?.isIntersecting)),
      {rootMargin: COVERED, threshold: 1},
    );
    this.line = line;
  }

  /** @param {Element | null} answer what the last result says first; none while there is no result */
  watch(answer) {
    this.observer.disconnect();
    if (answer) this.observer.observe(answer);
    else this.line.removeAttribute('data-answer-in-sight');
  }
}
