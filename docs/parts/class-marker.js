// <class-marker>: a class's hand-ins in, marks and a report out. All of it stays on this device.

import {choose, takeDrops} from './shared/chosen-files.js';
import {CLASS_LIST, onSet, setFields, takeInHand} from './shared/desk.js';
import {download} from './shared/download.js';
import {button} from './shared/form-part.js';
import {LivePart, fill} from './shared/live-part.js';
import {WorkDialog} from './shared/work-dialog.js';
import {ProgressBar} from './shared/progress-bar.js';
import {forget, recall, remember} from './shared/store.js';

/** @typedef {import('../engine/engine.js').Given} Given */

const HAND_INS = 'hand-ins/';
const LIST = 'class-list/';
// A pasted hand-in ends so; several may be pasted one after the other.
const PASTED_END = /(?<=>>DW1)/;
const PAUSE = 400;

class ClassMarker extends LivePart {
  get refusal() {
    return 'Not marked yet.';
  }

  begin() {
    /** @type {Given[]} */
    this.files = [];
    /** @type {Record<string, Uint8Array>} */
    this.made = {};
    this.form = /** @type {HTMLFormElement} */ (this.querySelector('form'));
    this.came = /** @type {HTMLElement} */ (this.querySelector('[data-came]'));
    this.ticks = /** @type {HTMLElement} */ (this.querySelector('[data-problems]'));
    this.dialog = new WorkDialog(/** @type {HTMLDialogElement} */ (this.querySelector('dialog')));
    this.#addButtons();
    takeDrops(/** @type {HTMLElement} */ (this.querySelector('[data-drop]')), (files) => this.#take(files));
    this.form.addEventListener('submit', (event) => {
      event.preventDefault();
      this.#mark();
    });
    this.form.addEventListener('input', (event) => this.#changed(/** @type {HTMLElement} */ (event.target)));
    this.output.addEventListener('click', (event) => this.#open(event));
    onSet(() => this.#otherSet(), this.gone.signal);
    this.#recallList();
    if (new URLSearchParams(location.search).has('demo')) this.#demo();
  }

  #addButtons() {
    this.querySelector('[data-pickers]')?.append(
      button('Choose files', () => choose({}, (files) => this.#take(files))),
      button('Choose a folder', () => choose({folder: true}, (files) => this.#take(files))),
      button('Try it with the invented class', () => this.#demo()),
      (this.clear = button('Take them all away', () => this.#clear())),
    );
    this.querySelector('[data-list-pickers]')?.append(button('Choose a file with the list', () => choose({}, ([file]) => this.#takeList(file))));
    this.clear.hidden = true;
    this.bar = new ProgressBar(this.form, () => this.marking?.abort());
    this.save = document.createElement('div');
    this.save.className = 'dw-buttons';
    this.save.hidden = true;
    this.save.append(
      button('Save marks.csv', () => this.#save('marks.csv', 'text/csv')),
      button('Save the report', () => this.#save('report.html', 'text/html')),
    );
    this.output.before(this.save);
  }

  /** @param {Given[]} files */
  #take(files) {
    this.files.push(...files.map(({path, content}) => ({path: HAND_INS + path, content})));
    this.#look();
  }

  #clear() {
    this.files = [];
    this.#look();
  }

  /** @param {Given} file */
  #takeList({path, content}) {
    this.list = {path: LIST + path, content};
    this.#look();
  }

  /** @returns {Given[]} all that goes along with a question */
  get #along() {
    const {value} = /** @type {HTMLTextAreaElement} */ (this.form.elements.namedItem('pasted'));
    const pasted = value.split(PASTED_END).filter((text) => text.trim());
    return [
      ...this.files,
      ...pasted.map((text, n) => ({path: `${HAND_INS}pasted text ${n + 1}.txt`, content: new Blob([text])})),
      ...(this.list ? [this.list] : []),
    ];
  }

  /** @returns {Record<string, string>} */
  get #asked() {
    const form = new FormData(this.form);
    const one = (/** @type {string} */ name) => String(form.get(name) ?? '');
    return {...setFields(), level: one('level'), only: JSON.stringify(form.getAll('only')), list: one('list')};
  }

  /** @param {HTMLElement} control */
  #changed(control) {
    const {name} = /** @type {HTMLInputElement} */ (control);
    if (name === 'level') this.#tickProblems();
    if (name === 'keep' || name === 'list') this.#keepList();
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.#look(), PAUSE);
  }

  async #tickProblems() {
    const wants = this.#asked.level === 'only';
    this.ticks.hidden = !wants;
    if (!wants) return;
    const answer = await this.ask({...this.#asked, action: 'problems'});
    if (answer) fill(this.ticks, answer.html);
  }

  #otherSet() {
    this.#tickProblems();
    this.#forgetResult();
    this.#look();
  }

  /** What was marked before says nothing of what is there now. */
  #forgetResult() {
    this.output.replaceChildren();
    this.save.hidden = true;
  }

  async #look() {
    const files = this.#along;
    this.clear.hidden = !this.files.length;
    this.#forgetResult();
    if (!files.length) {
      this.came.replaceChildren();
      return;
    }
    this.looking?.abort();
    this.looking = new AbortController();
    const answer = await this.ask({...this.#asked, action: 'look'}, {files});
    if (answer) fill(this.came, answer.html);
  }

  async #mark() {
    const files = this.#along;
    if (!files.length) {
      this.say('Nothing to mark yet. Choose files, drop them here, or paste texts.', true);
      return;
    }
    this.marking = new AbortController();
    this.bar.show({done: 0, whole: 0, words: 'Reading'});
    const answer = await this.ask({...this.#asked, action: 'mark'}, {files, signal: this.marking.signal, heard: (how) => this.bar.show(how)});
    this.bar.hide();
    if (!answer) return;
    this.made = answer.made;
    this.dialog.take(answer);
    this.save.hidden = false;
    fill(this.output, answer.html);
  }

  /** @param {Event} event */
  #open(event) {
    const opener = /** @type {HTMLElement} */ (event.target).closest('.dw-open');
    if (!(opener instanceof HTMLElement)) return;
    const {student, problem} = opener.dataset;
    this.dialog.open(Number(student), problem === undefined ? null : Number(problem));
  }

  /**
   * @param {string} name
   * @param {string} type
   */
  #save(name, type) {
    download(this.made[name], name, type);
    this.say(`${name} is saved.`);
  }

  #recallList() {
    const kept = recall(CLASS_LIST, '');
    /** @type {HTMLTextAreaElement} */ (this.form.elements.namedItem('list')).value ||= kept;
    /** @type {HTMLInputElement} */ (this.form.elements.namedItem('keep')).checked = Boolean(kept);
  }

  /** Names are kept only where the teacher ticks so, and go when the tick goes. */
  #keepList() {
    const {keep, list} = this.form.elements;
    if (keep.checked) remember(CLASS_LIST, list.value);
    else forget(CLASS_LIST);
  }

  async #demo() {
    const answer = await this.ask({action: 'demo'}, {files: []});
    if (!answer) return;
    takeInHand({set: answer.set});
    this.form.elements.list.value = answer.names;
    this.files = Object.entries(answer.made).map(([path, bytes]) => ({path: HAND_INS + path, content: new Blob([bytes])}));
    this.#look();
  }
}

customElements.define('class-marker', ClassMarker);
