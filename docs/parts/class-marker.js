// <class-marker>: a class's hand-ins in, marks and a report out. All of it stays on this device.

import {choose, takeDrops} from './shared/chosen-files.js';
import {CHANGES, CLASS_LIST, inHand, onSet, ownSets, setFields, takeInHand} from './shared/desk.js';
import {download} from './shared/download.js';
import {button} from './shared/form-part.js';
import {LivePart, fill, writtenIn} from './shared/live-part.js';
import {showPages} from './shared/paper-frame.js';
import {ProgressBar} from './shared/progress-bar.js';
import {forget, pairs, recall, remember} from './shared/store.js';
import {WorkDialog} from './shared/work-dialog.js';

/** @typedef {import('../engine/engine.js').Given} Given */
/** Marks given by hand for a problem. @typedef {{student: string, problem: string, step?: string, marks: string, reason: string}} Change */

const HAND_INS = 'hand-ins/';
const SETTINGS = 'desk/marking';
// The marks that a teacher changed, as an earlier marking saved them; a second download has a number in its name.
const CHANGES_FILE = /changes[^/]*\.csv$/i;
const KEPT_SETTINGS = ['decimal', 'scale'];
// A pasted hand-in ends so; several may be pasted one after the other.
const PASTED_END = /(?<=>>DW1)/;
const PAUSE = 400;
// A look at what came that takes longer has a bar, and gives way to a later one.
const LONG = 1000;

class ClassMarker extends LivePart {
  get refusal() {
    return 'Not marked yet.';
  }

  begin() {
    /** @type {Given[]} */
    this.files = [];
    /** Who else a name means, as the teacher said. @type {Record<string, string>} */
    this.same = {};
    /** What a table's columns hold, as the teacher said. @type {Record<string, string>} */
    this.columns = {};
    /** @type {Change[]} */
    this.changes = [];
    this.latest = this.lookedAt = this.timer = 0;
    this.form = /** @type {HTMLFormElement} */ (this.querySelector('form'));
    this.came = /** @type {HTMLElement} */ (this.querySelector('[data-came]'));
    this.ticks = /** @type {HTMLElement} */ (this.querySelector('[data-problems]'));
    this.pages = /** @type {HTMLElement} */ (this.querySelector('[data-pages]'));
    this.dialog = new WorkDialog(/** @type {HTMLDialogElement} */ (this.querySelector('dialog')), {
      change: (change) => this.#change(change),
      print: (student) => this.#print(student),
    });
    this.#addButtons();
    takeDrops(/** @type {HTMLElement} */ (this.querySelector('[data-drop]')), (files) => this.#take(files));
    this.form.addEventListener('submit', (event) => {
      event.preventDefault();
      this.#mark();
    });
    this.form.addEventListener('input', (event) => this.#changed(/** @type {HTMLElement} */ (event.target)));
    this.came.addEventListener('click', ({target}) => this.#answer(/** @type {HTMLElement} */ (target).dataset));
    this.output.addEventListener('click', ({target}) => this.#open(/** @type {HTMLElement} */ (target).closest('.dw-open')));
    onSet(() => this.#otherSet(), this.gone.signal);
    this.#recall();
    if (new URLSearchParams(location.search).has('demo')) this.#demo();
  }

  #addButtons() {
    this.clear = button('Take them all away', () => this.#clear());
    this.clear.hidden = true;
    this.querySelector('[data-pickers]')?.append(this.clear);
    this.hear({
      files: () => choose({}, (files) => this.#take(files)),
      folder: () => choose({folder: true}, (files) => this.#take(files)),
      demo: () => this.#demo(),
      list: () => choose({}, ([file]) => this.#takeList(file)),
    });
    this.bar = new ProgressBar(this.form, () => {
      this.marking?.abort();
      this.looking?.abort();
    });
    this.save = document.createElement('div');
    this.save.className = 'dw-buttons';
    this.save.hidden = true;
    this.output.before(this.save);
  }

  /** @param {string} name */
  #control(name) {
    return /** @type {HTMLInputElement} */ (this.form.elements.namedItem(name));
  }

  // What came.

  /** @param {Given[]} files */
  async #take(files) {
    const changed = files.filter(({path}) => CHANGES_FILE.test(path));
    for (const file of changed) if (!(await this.#takeChanges(file))) return;
    const handIns = files.filter((file) => !changed.includes(file));
    this.files.push(...handIns.map(({path, content}) => ({path: HAND_INS + path, content})));
    this.#look();
  }

  /**
   * @param {Given} file
   * @returns {Promise<boolean>} whether it could be read; the last word on a problem counts
   */
  async #takeChanges(file) {
    const answer = await this.ask({action: 'changes'}, {files: [file]});
    if (!answer) return false;
    for (const change of /** @type {Change[]} */ (answer.changes)) this.#put(change);
    this.#keep();
    return true;
  }

  /** @param {Change} change in place of an earlier one about the same */
  #put({step = '', ...change}) {
    this.changes = this.changes.filter((one) => one.student !== change.student || one.problem !== change.problem || (one.step ?? '') !== step);
    if (change.reason) this.changes.push({...change, step});
  }

  #clear() {
    this.files = [];
    this.same = {};
    this.columns = {};
    this.#look();
  }

  /** @param {Given} file */
  async #takeList(file) {
    const answer = await this.ask({action: 'list'}, {files: [file]});
    if (!answer) return;
    this.#control('list').value = answer.list;
    this.#keep();
    this.#look();
  }

  /** @returns {Given[]} the hand-ins, chosen and pasted */
  get #handIns() {
    const pasted = this.#control('pasted').value.split(PASTED_END).filter((text) => text.trim());
    return [...this.files, ...pasted.map((text, n) => ({path: `${HAND_INS}pasted text ${n + 1}.txt`, content: new Blob([text])}))];
  }

  /** @returns {Record<string, string>} */
  get #asked() {
    const form = new FormData(this.form);
    const typed = Object.fromEntries(['level', 'list', 'decimal', 'scale'].map((name) => [name, String(form.get(name) ?? '')]));
    const own = Object.fromEntries(ownSets().map(({file, text}) => [file, text]));
    const told = {only: form.getAll('only'), same: this.same, columns: this.columns, changes: this.changes, own_sets: own};
    return {...setFields(), ...typed, ...Object.fromEntries(Object.entries(told).map(([name, value]) => [name, JSON.stringify(value)]))};
  }

  /** @param {HTMLElement} control */
  async #changed(control) {
    const {name, value} = /** @type {HTMLInputElement} */ (control);
    const {column} = control.dataset;
    if (column !== undefined) {
      this.columns[column] = value;
      this.#look();
      return;
    }
    // A slow device is not told to tick problems that are not there yet.
    if (name === 'level') await this.#tickProblems();
    if (name === 'keep' || name === 'list') this.#keep();
    if (KEPT_SETTINGS.includes(name)) remember(SETTINGS, Object.fromEntries(KEPT_SETTINGS.map((each) => [each, this.#control(each).value])));
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.#look(), PAUSE);
  }

  async #tickProblems() {
    const wants = this.#asked.level === 'only';
    this.ticks.hidden = !wants;
    if (!wants) return;
    const answer = await this.ask({...this.#asked, action: 'problems'});
    if (answer) fill(this.ticks, answer.html, writtenIn(this.ticks));
  }

  async #otherSet() {
    // The set in hand may only have been written in another tab.
    if (this.changesOf !== this.#changesShelf) this.changes = this.#keptChanges();
    await this.#tickProblems();
    this.#look();
  }

  /** What was marked before says nothing of what is there now. */
  #look() {
    this.latest++;
    this.#forgetResult();
    return this.#showCame();
  }

  /** Say at once what came. */
  async #showCame() {
    clearTimeout(this.timer);
    this.timer = 0;
    const asked = ++this.lookedAt;
    const files = this.#handIns;
    this.clear.hidden = !this.files.length;
    if (!files.length) {
      this.came.replaceChildren();
      this.say('');
      return;
    }
    if (this.isLong) this.looking?.abort();
    this.isLong = false;
    const {signal} = (this.looking = new AbortController());
    const began = performance.now();
    const answer = await this.ask({...this.#asked, action: 'look'}, {
      files,
      signal,
      heard: (how) => {
        this.isLong = performance.now() - began > LONG;
        if (this.isLong) this.bar?.show(how);
      },
    });
    if (asked !== this.lookedAt) return;
    if (this.isLong) this.bar?.hide();
    this.isLong = false;
    if (answer) fill(this.came, answer.html, writtenIn(this.came));
  }

  /** @param {DOMStringMap} pressed what to do about what came: take another set in hand, mark every set, or who a name means */
  #answer({set, file, level, name, other, names}) {
    if (set) takeInHand({set});
    else if (file) takeInHand({file});
    else if (level) this.#control('level').value = level;
    if (level) this.#changed(this.#control('level'));
    if (name) this.#sayWho(name, other);
    if (names) {
      Object.assign(this.same, JSON.parse(names));
      this.#look();
    }
  }

  /**
   * @param {string} name
   * @param {string} [other] whom it means
   */
  #sayWho(name, other) {
    if (other) this.same[name] = other;
    else delete this.same[name];
    this.#look();
  }

  // The marks.

  #forgetResult() {
    this.output.replaceChildren();
    this.pages.replaceChildren();
    this.save.hidden = true;
  }

  /**
   * Ask with all that came, with a bar that tells how far it is and a button that stops.
   * @param {Record<string, string>} more
   */
  async #work(more) {
    const files = this.#handIns;
    if (!files.length) {
      this.say('Nothing to mark yet. Choose files, drop them here, or paste texts.', true);
      return null;
    }
    this.marking?.abort();
    const {signal} = (this.marking = new AbortController());
    this.bar.show({done: 0, whole: 0, words: 'Reading'});
    const answer = await this.ask({...this.#asked, ...more}, {files, signal, heard: (how) => this.bar.show(how)});
    this.bar.hide();
    return answer;
  }

  async #mark() {
    if (this.timer) this.#showCame();
    const asked = ++this.latest;
    const answer = await this.#work({action: 'mark'});
    if (!answer || asked !== this.latest) return;
    this.dialog.take(/** @type {any} */ (answer));
    fill(this.output, answer.html);
    this.save.replaceChildren(
      ...Object.entries(answer.made).map(([name, bytes]) => button(`Save ${name}`, () => this.#save(name, bytes))),
      ...(answer.students.length ? [button('Save a page for each student', () => this.#savePages()), button('Print every student’s page', () => this.#print(''))] : []),
    );
    this.save.hidden = false;
    this.pages.replaceChildren();
  }

  /** @param {Element | null} opener */
  #open(opener) {
    if (!(opener instanceof HTMLElement)) return;
    const {student, problem} = opener.dataset;
    this.dialog.open(Number(student), problem === undefined ? null : Number(problem));
  }

  /** @param {Change} change with a reason; without one, what was changed before is undone */
  async #change(change) {
    this.#put(change);
    this.#keep();
    await this.#mark();
  }

  /**
   * @param {string} name
   * @param {Uint8Array} bytes
   */
  #save(name, bytes) {
    download(bytes, name, 'application/octet-stream');
    this.say(`${name} is saved.`);
  }

  async #savePages() {
    const answer = await this.#work({action: 'pages'});
    for (const [name, bytes] of Object.entries(answer?.made ?? {})) download(bytes, name, 'application/zip');
  }

  /** @param {string} student whose page; empty for all */
  async #print(student) {
    const answer = await this.#work({action: 'print', student});
    if (!answer) return;
    const title = student || 'Every student’s page';
    showPages(this.pages, title, answer.html, answer.style).contentWindow?.print();
  }

  // What is kept.

  #recall() {
    for (const [name, value] of Object.entries(pairs(recall(SETTINGS, {}), 'string'))) {
      if (KEPT_SETTINGS.includes(name)) this.#control(name).value = value;
    }
    const kept = recall(CLASS_LIST, '');
    this.#control('list').value ||= kept;
    this.#control('keep').checked = Boolean(kept);
    this.changes = this.#keptChanges();
  }

  get #changesShelf() {
    const hand = inHand();
    return CHANGES + ('set' in hand ? hand.set : hand.file);
  }

  /** @returns {Change[]} */
  #keptChanges() {
    this.changesOf = this.#changesShelf;
    const kept = recall(this.changesOf, /** @type {any} */ ([]));
    return Array.isArray(kept) ? kept.filter((each) => Object.keys(pairs(each, 'string')).length >= 4) : [];
  }

  /** Names and marks are kept only where the teacher ticks so, and go when the tick goes. */
  #keep() {
    if (this.#control('keep').checked) {
      remember(CLASS_LIST, this.#control('list').value);
      remember(this.#changesShelf, this.changes);
    } else {
      forget(CLASS_LIST);
      forget(this.#changesShelf);
    }
  }

  async #demo() {
    const answer = await this.ask({action: 'demo'}, {files: []});
    if (!answer) return;
    takeInHand({set: answer.set});
    this.#control('list').value = answer.names;
    this.files = Object.entries(answer.made).map(([path, bytes]) => ({path: HAND_INS + path, content: new Blob([bytes])}));
    this.#look();
  }
}

customElements.define('class-marker', ClassMarker);
