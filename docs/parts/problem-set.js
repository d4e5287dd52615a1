// <problem-set>: a student's numbers, answers and marks. Answers stay on this device.

import {download} from './shared/download.js';
import {LivePart, fill} from './shared/live-part.js';
import {ReadBack, countHint, now, placeVerdicts, putAnswers, showMarking, showVerdicts, stillWritten} from './shared/problem-form.js';
import {letGo, stillness} from './shared/pressed.js';
import {keepStanding} from './shared/standing.js';
import {PREFIX, pairs, plainName, recall, remember, shelves} from './shared/store.js';
import {addAttempts} from './shared/study-log.js';
import {SetWay} from './shared/set-way.js';

/** @typedef {Record<string, Record<string, string>>} Answers */
/** @typedef {{answers: Answers, marked: Answers, tries: Record<string, number>, hints: Record<string, Record<string, number>>}} Work by problem */

// A student who stops for so long has written the name.
const PAUSE = 400;

class ProblemSet extends LivePart {
  begin() {
    this.name = this.getAttribute('name') ?? '';
    // A set that a student was given comes along as letters, and is known by what it asks.
    this.packed = this.getAttribute('packed') ?? '';
    this.place = this.getAttribute('place') ?? (this.packed ? `given/${this.name}@${this.getAttribute('content')}` : `set/${this.name}`);
    // A school's system keeps the work, and is told of each marking (school-set.js).
    this.told = this.hasAttribute('data-told');
    /** @type {Work | undefined} work that was brought for the student of now, before this script came */
    this.brought = this.brought;
    this.who = /** @type {HTMLInputElement} */ (this.querySelector('[name="student"]'));
    /** @type {Record<string, number>} */
    this.tries = {};
    /** @type {Answers} */
    this.answers = {};
    /** @type {Record<string, Record<string, number>>} how many hints of each step were opened */
    this.hints = {};
    /** @type {Answers} as they were last marked */
    this.marked = {};
    this.readBack = new ReadBack((form) => this.engine.ask({
      part: this.localName,
      fields: this.#fields('read', {problem: form.dataset.problem ?? ''}),
    }));
    this.addEventListener('input', (event) => this.#typed(event));
    this.addEventListener('submit', (event) => this.#submitted(event));
    // A toggle does not bubble: catch it on the way down.
    this.addEventListener('toggle', (event) => this.#hintOpened(event), {capture: true});
    this.who.addEventListener('input', () => this.#nameTyped());
    this.who.addEventListener('change', () => this.#changeStudent());
    this.addEventListener('click', (event) => this.#clicked(event));
    addEventListener('storage', ({key}) => {
      if (key?.startsWith(`${PREFIX}${this.place}/`)) this.#otherTab();
    }, {signal: this.gone?.signal});
    this.way = new SetWay(this);
    if (this.who.value) {
      // It was typed before this script came.
      this.#changeStudent();
      return;
    }
    this.who.value = recall('student', '');
    /** @type {string} the student whose numbers are shown */
    this.drawn = this.student;
    this.#restore();
    if (this.who.value || Object.keys(this.marked).length) this.#draw();
  }

  get refusal() {
    return 'Not handed in yet.';
  }

  get student() {
    return this.who.value.trim().replace(/\s+/gu, ' ');
  }

  get #shelf() {
    return this.#shelfOf(this.student);
  }

  /** @param {string} student */
  #shelfOf(student) {
    return `${this.place}/${plainName(student)}`;
  }

  /** Answers to the sample numbers are not lost when a name brings others: say so beside the name. */
  #tellOfSamples() {
    const place = this.querySelector('[data-samples]');
    if (!place) return;
    const samples = pairs(recall(this.#shelfOf(''), {answers: {}}).answers, 'object');
    place.textContent = this.student && Object.keys(samples).length
      ? 'Your answers to the sample numbers are kept. Empty the name to see them again.'
      : '';
  }

  #restore() {
    Object.assign(this, this.brought ?? this.#kept());
    this.brought = undefined;
    this.#showAnswers();
    this.#tellOfSamples();
  }

  /** @returns {Work} what the device keeps of this student's work, however the name was once written */
  #kept() {
    const start = `${this.place}/`;
    const plain = plainName(this.student);
    const others = shelves(start).filter((shelf) => shelf !== this.#shelf && plainName(shelf.slice(start.length)) === plain);
    const nothing = {answers: {}, tries: {}, hints: {}, marked: {}};
    const found = [...others, this.#shelf].map((shelf) => recall(shelf, nothing));
    const all = (/** @type {keyof Work} */ part, /** @type {'object' | 'number'} */ type) =>
      Object.assign({}, ...found.map((one) => pairs(one[part], type)));
    return {answers: all('answers', 'object'), tries: all('tries', 'number'), hints: all('hints', 'object'), marked: all('marked', 'object')};
  }

  /**
   * Keep one problem's work. Another tab may have written the others meanwhile: they stay as they are there.
   * @param {string} problem
   */
  #keep(problem) {
    const kept = this.#kept();
    /** @type {Record<string, Record<string, unknown>>} */
    const work = {};
    for (const part of /** @type {(keyof Work)[]} */ (['answers', 'tries', 'hints', 'marked'])) {
      work[part] = {...this[part], ...kept[part]};
      if (this[part][problem] !== undefined) work[part][problem] = this[part][problem];
    }
    remember('student', this.who.value);
    const taken = remember(this.#shelf, work);
    if (this.told) {
      const {answers, tries, hints, marked} = this;
      this.#tell('work', {answers, tries, hints, marked, problem, kept: taken});
    } else if (!taken) {
      this.say('This device keeps nothing now. Save a hand-in file before you leave the page.', true);
    }
  }

  /** What this student wrote in another tab is here too, and what was marked there. */
  async #otherTab() {
    const before = this.marked;
    Object.assign(this, this.#kept());
    this.#showAnswers();
    const changed = Object.keys(this.marked).filter((id) => JSON.stringify(this.marked[id]) !== JSON.stringify(before[id]));
    const answer = changed.length ? await this.#ask('draw') : null;
    if (!answer) return;
    const whole = document.createElement('div');
    fill(whole, answer.html);
    for (const id of changed) {
      const [there, here] = [whole, this].map((place) => place.querySelector(`form[data-problem="${CSS.escape(id)}"] [data-feedback]`));
      if (there) here?.replaceChildren(...there.childNodes);
    }
    this.#showWay(answer);
    for (const form of this.#problems()) {
      if (changed.includes(form.dataset.problem ?? '')) this.#showSaid(form, answer, this.marked);
    }
  }

  #showAnswers() {
    for (const form of this.#problems()) {
      putAnswers(form, this.answers[form.dataset.problem ?? ''] ?? {});
    }
  }

  /** @returns {NodeListOf<HTMLFormElement>} */
  #problems() {
    return this.querySelectorAll('form[data-problem]');
  }

  /**
   * @param {string} id
   * @returns {HTMLFormElement | null}
   */
  #problem(id) {
    return this.querySelector(`form[data-problem="${CSS.escape(id)}"]`);
  }

  /** @param {Event} event */
  #typed(event) {
    const box = /** @type {HTMLInputElement} */ (event.target);
    const form = box.closest('form');
    const problem = form?.dataset.problem;
    if (!problem) return;
    (this.answers[problem] ??= {})[box.name] = box.value;
    box.removeAttribute('data-verdict');
    this.readBack.typed(box);
    this.#keep(problem);
    this.#begun(problem);
  }

  /**
   * What is begun is told in the ticks and in the lists, and what is emptied again is not.
   * @param {string} problem
   */
  #begun(problem) {
    const written = Object.values(this.answers[problem]).some((text) => text.trim());
    if (written !== this.way.untouched(problem)) return;
    this.#tellNothing();
    const mine = this.telling = setTimeout(async () => {
      const answer = await this.#askWay();
      // A marking that came meanwhile knows more.
      if (!answer || this.telling !== mine) return;
      this.way.take(answer);
      if (!this.told && !this.packed) keepStanding(this.name, this.student, answer.standing, this.way.number);
    }, PAUSE);
  }

  /** @returns {Promise<Record<string, any> | null>} how far the student is; nothing where Python does not answer */
  async #askWay() {
    try {
      const answer = await this.engine.ask({part: this.localName, fields: this.#fields('way', {})});
      await letGo();
      return answer;
    } catch {
      return null;
    }
  }

  #tellNothing() {
    clearTimeout(this.telling);
    this.telling = undefined;
  }

  /** @param {Event} event */
  #hintOpened(event) {
    const hint = /** @type {HTMLDetailsElement} */ (event.target);
    const problem = hint.closest('form')?.dataset.problem;
    if (!hint.dataset.step || !problem) return;
    countHint(hint, (this.hints[problem] ??= {}));
    this.#keep(problem);
  }

  #nameTyped() {
    clearTimeout(this.typing);
    this.typing = setTimeout(() => this.#changeStudent(), PAUSE);
  }

  async #changeStudent() {
    clearTimeout(this.typing);
    remember('student', this.who.value);
    if (this.drawn === this.student) return;
    this.drawn = this.student;
    this.#tellNothing();
    this.#restore();
    await this.#draw();
  }

  async #draw() {
    const {student} = this;
    const sent = structuredClone(this.answers);
    const answer = await this.#ask('draw');
    if (!answer || student !== this.student) return;
    fill(this.output, answer.html, () => this.#showAnswers());
    for (const form of this.#problems()) this.#showSaid(form, answer, sent);
    this.#showWay(answer);
    this.way.show();
    this.#tellWhose();
  }

  #tellWhose() {
    const place = this.querySelector('[data-whose]');
    if (place) place.textContent = this.student ? 'These are your numbers.' : '';
    this.toggleAttribute('data-named', Boolean(this.student));
  }

  /**
   * @param {HTMLFormElement} form
   * @param {Record<string, any>} answer
   * @param {Answers} sent what Python read
   */
  #showSaid(form, answer, sent) {
    const id = form.dataset.problem ?? '';
    placeVerdicts(form);
    showVerdicts(form, stillWritten(form, answer.verdicts[id] ?? {}, sent[id] ?? {}));
  }

  /** @param {Record<string, any>} answer */
  #showWay(answer) {
    const place = this.querySelector('[data-total]');
    if (place) place.textContent = answer.total;
    this.way.take(answer);
    if (this.told) this.#tell('way', answer);
    else if (!this.packed) keepStanding(this.name, this.student, answer.standing, this.way.number);
  }

  /** @param {Event} event */
  #clicked(event) {
    const button = /** @type {HTMLElement} */ (event.target).closest('button');
    const action = button?.dataset.action;
    if (action === 'hand-in') this.#handIn();
    if (action === 'copy') this.#copy();
    if (action !== 'ways' || !button) return;
    const open = button.getAttribute('aria-expanded') !== 'true';
    button.setAttribute('aria-expanded', String(open));
  }

  /** @param {Event} event */
  async #submitted(event) {
    event.preventDefault();
    const problem = /** @type {HTMLFormElement} */ (event.target).dataset.problem;
    const isStill = stillness();
    if (!problem) {
      // On to the problem: Enter goes on here as it does there.
      await this.#changeStudent();
      if (isStill()) this.way.open(this.way.at);
      return;
    }
    this.#tellNothing();
    const {student} = this;
    const sent = {...this.answers[problem]};
    const answer = await this.#ask('mark', {problem, now: now()});
    // Another name has other numbers, and answers of its own.
    if (!answer || student !== this.student) return;
    this.tries[problem] = answer.tries;
    this.marked[problem] = sent;
    if (!this.told && !addAttempts(answer.attempts)) this.say('Marked. This device cannot keep your practice log now.', true);
    this.#keep(problem);
    // Numbers for a new name may have come meanwhile, in a form of their own.
    const form = this.#problem(problem);
    if (!form) return;
    this.#showWay(answer);
    showMarking(form, {...answer, verdicts: stillWritten(form, answer.verdicts, sent)}, isStill);
  }

  async #handIn() {
    const isStill = stillness();
    const answer = await this.#ask('hand-in', {now: now()});
    if (!answer) {
      if (isStill()) this.who.focus();
      return;
    }
    download(answer.file, answer.filename);
  }

  async #copy() {
    const isStill = stillness();
    const answer = await this.#ask('copy', {now: now()});
    if (!answer) {
      if (isStill()) this.who.focus();
      return;
    }
    try {
      await navigator.clipboard.writeText(answer.text);
    } catch {
      this.#showText(answer.text);
    }
  }

  /**
   * A browser may refuse the clipboard: then the reader copies by hand.
   * @param {string} text
   */
  #showText(text) {
    const box = /** @type {HTMLTextAreaElement} */ (this.querySelector('[data-packed]'));
    box.hidden = false;
    box.value = text;
    box.select();
    this.say('Copy the text in the box, and paste it where your teacher asks for it.');
  }

  /**
   * @param {'draw' | 'mark' | 'hand-in' | 'copy'} action
   * @param {Record<string, string>} [more]
   */
  #ask(action, more = {}) {
    // Only what concerns the hand-in takes room in its bar; the rest is said aloud, and seen in its place.
    this.status.classList.toggle('dw-shown', action === 'hand-in' || action === 'copy');
    return this.ask(this.#fields(action, more));
  }

  /**
   * @param {string} action
   * @param {Record<string, string>} more
   * @returns {Record<string, string>} the work as Python reads it
   */
  #fields(action, more) {
    const {name, packed, student} = this;
    const level = this.getAttribute('level') ?? '';
    const [answers, marked, tries, hints] = [this.answers, this.marked, this.tries, this.hints].map((kept) => JSON.stringify(kept));
    return {action, name, packed, level, student, answers, marked, tries, hints, ...more};
  }

  /**
   * What the school's system is to hear.
   * @param {'work' | 'way'} type
   * @param {Record<string, any>} detail
   */
  #tell(type, detail) {
    this.dispatchEvent(new CustomEvent(type, {bubbles: true, detail}));
  }

  /** @returns {Promise<Record<string, any>[]>} each step with its answer and how it came out */
  async record() {
    return (await this.engine.ask({part: this.localName, fields: this.#fields('record', {})})).record;
  }
}

customElements.define('problem-set', ProblemSet);
