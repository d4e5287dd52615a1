// <school-set>: a set in a package, alone or as the last step of its lesson, played inside a school's system. The system
// says who the student is, and keeps work and marks. Where there is none, or where it fails, the page works on: the
// device keeps the work, and the hand-in file is there.

import {LivePart, fill} from './shared/live-part.js';
import {NO_LESSON, SchoolLesson, mergedLessons} from './shared/school-lesson.js';
import {findSystem} from './shared/school-system.js';
import {fitted, merged, plain, unpacked} from './shared/school-work.js';
import {plainName, recall, remember} from './shared/store.js';

/** What a package holds (exercises/publish/scorm.py). @typedef {{as: 'scorm12' | 'scorm2004', name: string, packed: string, level: string, pass: number | null}} Held */
/** @typedef {import('./shared/school-work.js').Kept} Kept */
/** @typedef {import('./shared/school-work.js').Work} Work */

const NOTHING = {answers: {}, marked: {}, tries: {}, hints: {}};
const ALONE = 'No school’s system answers around this page. It works all the same: this device keeps your answers. When you are done, save a hand-in file for your teacher.';
const TOLD = 'Your work goes to your school’s system by itself. You can leave, and go on later on any computer.';
const REVIEW = 'You are looking at work that your school’s system has closed. Nothing is changed, and nothing is sent.';

class SchoolSet extends LivePart {
  begin() {
    /** @type {Held} */
    this.held = JSON.parse(this.dataset.held ?? '');
    this.again = /** @type {HTMLFormElement} */ (this.querySelector(':scope > form'));
    this.system = findSystem(this.held.as, window);
    this.opened = this.system?.open() ?? false;
    /** Per cent; a teacher may have set another in the system. @type {number | null} */
    this.passMark = (this.opened && this.system ? this.system.passMark : null) ?? this.held.pass;
    /** Fresh work, packed when it is sent. @type {{work: Kept, newest: string} | null} */
    this.fresh = null;
    /** The set's part of it. @type {Work & {student: string}} */
    this.work = {...NOTHING, student: ''};
    /** When it was written. */
    this.at = 0;
    this.lesson = new SchoolLesson(this, (marked) => this.#learnt(marked));
    this.addEventListener('work', (event) => this.#worked(/** @type {CustomEvent} */ (event).detail));
    this.addEventListener('way', (event) => this.#went(/** @type {CustomEvent} */ (event).detail));
    this.again.addEventListener('submit', (event) => {
      event.preventDefault();
      this.#send();
    });
    this.#show();
  }

  /** @returns {boolean} whether a system listens */
  get sends() {
    return this.opened && !this.system?.isReview;
  }

  /** @returns {HTMLElement} the set's place; the lesson around it has places of its own */
  get output() {
    return /** @type {HTMLElement} */ (this.querySelector('[data-set]'));
  }

  async #show() {
    const sent = this.opened ? await unpacked(this.system?.work ?? '') : null;
    // Whoever began under a name goes on with its numbers, whatever the system calls the student today.
    const student = sent?.student || (this.opened && this.system?.student) || '';
    if (sent) [this.work, this.at] = [{...workOf(sent), student}, sent.at];
    const id = (this.opened && this.system?.id) || '';
    this.lessonShelf = `school/lesson/${this.held.name}/${id || plainName(student)}`;
    this.#bringLesson(sent?.lesson ?? NO_LESSON);
    document.addEventListener('visibilitychange', () => document.hidden && this.#saveAtOnce(), {signal: this.gone?.signal});
    // What is told last is kept with a page that goes; one that comes back out of the browser's memory begins again.
    addEventListener('pagehide', () => this.#leave());
    addEventListener('pageshow', ({persisted}) => persisted && location.reload());
    const {name, packed, level} = this.held;
    const answer = await this.ask({name, packed, level, student, id});
    if (!answer) return;
    this.place = answer.place;
    this.problems = answer.problems;
    fill(this.output, answer.html);
    const set = /** @type {HTMLElement & {brought?: Work}} */ (this.output.querySelector('problem-set'));
    if (student) {
      set.brought = this.#brought(sent ?? {...NOTHING, student, at: 0});
      this.work = {...set.brought, student};
    }
    if (this.sends) this.system?.begin();
    this.#tell();
  }

  /**
   * @param {Kept} sent what the system kept
   * @returns {Work} with what this device has and the system has not
   */
  #brought(sent) {
    if (this.system?.isReview) return workOf(sent);
    const shelf = this.#shelfOf(sent.student);
    const here = {...NOTHING, ...recall(shelf, {}), student: sent.student, at: recall(`when/${shelf}`, 0)};
    const work = merged(sent, here);
    remember(shelf, workOf(work));
    this.at = work.at;
    // The system did not take it when it was written.
    if (here.at > sent.at || this.lesson.kept.when > (sent.lesson?.when ?? 0)) this.fresh = {work: this.#withLesson(work), newest: ''};
    return workOf(work);
  }

  /** @param {import('./shared/school-lesson.js').Lesson} sent what the system kept: this device may have more */
  #bringLesson(sent) {
    if (!this.lesson.isThere) return;
    const here = this.system?.isReview ? NO_LESSON : recall(this.lessonShelf ?? '', NO_LESSON);
    this.lesson.restore(mergedLessons(sent, {...NO_LESSON, ...here}));
  }

  /**
   * @param {Kept} work the set's
   * @returns {Kept}
   */
  #withLesson(work) {
    return this.lesson.isThere ? {...work, lesson: this.lesson.kept} : work;
  }

  /** @param {string} student */
  #shelfOf(student) {
    return `${this.place}/${plainName(student)}`;
  }

  /** @param {any} detail */
  async #worked({problem, kept, ...work}) {
    const student = /** @type {any} */ (this.output.querySelector('problem-set')).student;
    this.at = Date.now();
    remember(`when/${this.#shelfOf(student)}`, this.at);
    this.work = {...work, student};
    await this.#keepFresh(problem, kept);
  }

  /** @param {boolean} marked whether a question of the lesson was marked, which counts for completion */
  async #learnt(marked) {
    if (this.system?.isReview) return;
    const kept = remember(this.lessonShelf ?? '', this.lesson.kept);
    await this.#keepFresh(this.fresh?.newest ?? '', kept);
    if (marked && this.sends) await this.#send();
  }

  /**
   * @param {string} newest the problem that was worked at last
   * @param {boolean} kept whether the device keeps what is new
   */
  async #keepFresh(newest, kept) {
    this.onDevice = kept;
    this.fresh = {work: this.#withLesson({...this.work, at: this.at}), newest};
    if (this.sends && !(await this.#keep())) this.#tell(false);
    else if (!this.opened && !kept) this.say('This device keeps nothing now. Save a hand-in file before you leave the page.', true);
  }

  /** Hand what is fresh to the system: it is there when the page goes, and kept for good with the next commit. */
  async #keep() {
    const {fresh, system} = this;
    if (!fresh || !system) return true;
    const fit = await fitted(fresh.work, system.room, fresh.newest);
    // Somebody types faster than this packs: the last one counts.
    if (fresh !== this.fresh) return true;
    this.left = fit;
    this.last = fresh;
    return system.keep(fit.text);
  }

  /** What was typed last may not be packed yet when the page goes: then it is handed over as it is, if there is room. */
  #keepAtOnce() {
    const {fresh, system} = this;
    if (!fresh || !system || fresh === this.last) return;
    const text = plain(fresh.work);
    if (text.length <= system.room) system.keep(text);
  }

  /** @param {Record<string, any>} answer how far the student is, as Python tells it after each marking */
  async #went({standing}) {
    if (this.system?.isReview) this.#close();
    if (!this.sends) return;
    this.standing = standing;
    await this.#send();
  }

  async #send() {
    const {system} = this;
    const set = /** @type {any} */ (this.output.querySelector('problem-set'));
    if (!system) return;
    // The marks at once, for a student who leaves when they are seen; of the steps Python has yet to tell.
    this.#report([]);
    const entries = this.standing?.done ? await set.record() : [];
    const kept = await this.#keep();
    const told = this.#report(entries);
    const sent = this.#commit() && kept && told;
    this.#tell(sent);
  }

  /**
   * @param {import('./shared/school-system.js').Entry[]} entries each step with its answer
   * @returns {boolean} whether the system took it all; what was only looked at is no more than begun
   */
  #report(entries) {
    const far = this.#far;
    return !far?.done || Boolean(this.system?.report(far, this.passMark ?? null, entries));
  }

  /** How far the student is in the set, and in the lesson around it; null before the set is there. */
  get #far() {
    const {standing, lesson} = this;
    if (!standing) return null;
    const {earned, outOf, done} = standing;
    const of = Object.keys(this.problems ?? {}).length;
    return {earned, outOf, scored: done > 0, done: done + lesson.standing.done, of: of + lesson.standing.of};
  }

  /** @returns {boolean} */
  #commit() {
    return this.sends && /** @type {import('./shared/school-system.js').SchoolSystem} */ (this.system).commit();
  }

  #saveAtOnce() {
    if (!this.sends) return;
    this.#keepAtOnce();
    this.#commit();
  }

  #leave() {
    this.#saveAtOnce();
    this.system?.close();
    this.opened = false;
  }

  /** @param {boolean} [sent] whether the system took the last of it; unknown before anything was sent */
  #tell(sent) {
    const failed = sent === false || Boolean(this.system && !this.opened);
    this.again.hidden = !(failed && this.opened);
    if (failed) this.say(this.#trouble(), true);
    else if (!this.opened) this.say(ALONE);
    else if (this.system?.isReview) this.say(REVIEW);
    else this.say([sent && this.#far?.done ? `Saved in your school’s system at ${time()}.` : TOLD, this.#leftOut()].filter(Boolean).join(' '), Boolean(this.left?.left.length));
  }

  #trouble() {
    const where = this.onDevice === false ? 'Keep this page open' : 'This device keeps it';
    return `Your school’s system did not take your work (it says: ${this.system?.trouble}). ${where}. Save a hand-in file to be safe.`;
  }

  /** What the system has no room for is told: it is on this device alone. */
  #leftOut() {
    if (this.left?.left.length) {
      const titles = this.left.left.map((id) => `“${this.problems?.[id] ?? id}”`).join(', ');
      return `Your school’s system has no room for such long answers: part of what you wrote in ${titles} is on this device alone. Save a hand-in file to be safe.`;
    }
    if (this.left?.lesson) return 'It has no room for your answers in the lesson: it knows which questions you answered, and this device keeps your words.';
    return this.left?.tries ? 'It has no room for your earlier tries: your newest answers are kept.' : '';
  }

  /** Work that is only looked at. */
  #close() {
    for (const each of this.querySelectorAll('form[data-problem] :is(input, select, textarea, button)')) {
      /** @type {HTMLInputElement} */ (each).disabled = true;
    }
  }
}

/**
 * @param {Kept} kept
 * @returns {Work}
 */
function workOf({answers, marked, tries, hints}) {
  return {answers, marked, tries, hints};
}

/** @returns {string} */
function time() {
  return new Date().toLocaleTimeString([], {hour: '2-digit', minute: '2-digit'});
}

customElements.define('school-set', SchoolSet);
