// The lesson around a set in a package: its questions' answers and the step one was at, which the school's system keeps.

/** A question as it was left (check-question.js); `done` is whether it was ever marked. @typedef {{answers: Record<string, string>, marked: Record<string, string>, tries: number, verdicts: Record<string, string>, done: boolean}} Question */
/** `when` is when it was written (milliseconds since 1970), `step` the id of the step's heading. @typedef {{when: number, step: string, asked: Record<string, Question>}} Lesson */

/** @type {Lesson} */
export const NO_LESSON = {when: 0, step: '', asked: {}};

export class SchoolLesson {
  /** @type {Lesson} */
  kept = NO_LESSON;
  /** @type {Map<string, any>} */
  #questions = new Map();
  #steps;
  #awake = false;

  /**
   * @param {HTMLElement} school
   * @param {(marked: boolean) => void} changed hears of each change, and whether a question was marked
   */
  constructor(school, changed) {
    this.#steps = /** @type {any} */ (school.querySelector('lesson-steps'));
    for (const each of school.querySelectorAll('check-question')) this.#questions.set(this.#newName(each), each);
    const names = new Map([...this.#questions].map(([name, question]) => [question, name]));
    school.addEventListener('question', (event) => {
      const {question, marked} = /** @type {CustomEvent} */ (event).detail;
      const name = names.get(event.target) ?? '';
      const done = Boolean(this.kept.asked[name]?.done) || Object.values(question.marked).some(Boolean);
      this.#keep({asked: {...this.kept.asked, [name]: {...question, done}}});
      changed(marked);
    });
    school.addEventListener('step', (event) => {
      const {at} = /** @type {CustomEvent} */ (event).detail;
      // The first one is shown before it is known where the student was.
      if (!this.#awake || at === this.kept.step) return;
      this.#keep({step: at});
      changed(false);
    });
  }

  /** Whether there is a lesson at all. */
  get isThere() {
    return Boolean(this.#steps);
  }

  /** How many questions there are, and how many of them were marked once. */
  get standing() {
    const done = [...this.#questions.keys()].filter((name) => this.kept.asked[name]?.done);
    return {done: done.length, of: this.#questions.size};
  }

  /**
   * A short name that the same question has each time: the problem's, and which of its kind it is on the page.
   * @param {Element} question
   */
  #newName(question) {
    const id = (question.getAttribute('problem') ?? '').split('/').at(-1) ?? '';
    let name = id;
    for (let n = 2; this.#questions.has(name); n++) name = `${id} ${n}`;
    return name;
  }

  /** @param {Partial<Lesson>} changed */
  #keep(changed) {
    this.kept = {...this.kept, ...changed, when: Date.now()};
  }

  /**
   * Put back what was kept, as soon as the elements are awake. What was done meanwhile stays.
   * @param {Lesson} lesson
   */
  async restore(lesson) {
    if (!this.isThere) return;
    const now = this.kept;
    this.kept = {...mergedLessons(lesson, now), asked: {...lesson.asked, ...now.asked}};
    await Promise.all([customElements.whenDefined('check-question'), customElements.whenDefined('lesson-steps')]);
    for (const [name, question] of Object.entries(lesson.asked)) if (!(name in now.asked)) this.#questions.get(name)?.restore(question);
    this.#steps.goTo(lesson.step);
    this.#awake = true;
  }
}

/**
 * @param {Lesson} one
 * @param {Lesson} other
 * @returns {Lesson} both: where each has something, the newer one's counts
 */
export function mergedLessons(one, other) {
  const [older, newer] = one.when <= other.when ? [one, other] : [other, one];
  return {when: newer.when, step: newer.step || older.step, asked: {...older.asked, ...newer.asked}};
}
