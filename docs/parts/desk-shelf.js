// <desk-shelf>: the teacher's own sets on this device, everything in one file and back, and forgetting all.

import {LIMITS} from '../page/limits.js';
import {choose} from './shared/chosen-files.js';
import {forgetDesk, forgetOwnSet, inHand, keepOwnSet, keptOnDesk, onSet, ownSets, settings, takeInHand, takeSettings, titleOf} from './shared/desk.js';
import {download} from './shared/download.js';
import {button} from './shared/form-part.js';
import {LivePart} from './shared/live-part.js';
import {stillness} from './shared/pressed.js';

/** @typedef {import('./shared/desk.js').OwnSet} OwnSet */

class DeskShelf extends LivePart {
  get refusal() {
    return '';
  }

  begin() {
    this.list = /** @type {HTMLElement} */ (this.querySelector('[data-sets]'));
    this.querySelector('form')?.addEventListener('submit', (event) => event.preventDefault());
    this.hear({
      save: () => this.#saveAll(),
      read: () => choose({accept: '.json'}, ([file]) => this.#readAll(file)),
      forget: () => this.#forgetAll(),
    });
    onSet(() => this.#show(), this.gone.signal);
    this.#show();
  }

  #show() {
    const sets = ownSets();
    this.list.replaceChildren(...sets.map((set) => this.#row(set)));
    /** @type {HTMLElement} */ (this.querySelector('[data-empty]')).hidden = sets.length > 0;
    const kept = keptOnDesk();
    /** @type {HTMLElement} */ (this.querySelector('[data-kept]')).textContent = kept.length
      ? `This device keeps ${listed(kept)}. Nothing of it is sent anywhere.`
      : 'This device keeps nothing of your desk.';
  }

  /** @param {OwnSet} set */
  #row(set) {
    const row = document.createElement('li');
    const name = document.createElement('strong');
    name.textContent = set.file;
    const title = document.createElement('span');
    title.textContent = titleOf(set.text);
    const bar = document.createElement('div');
    bar.className = 'dw-buttons';
    bar.append(
      ...[
        ['Open', () => this.#open(set)],
        ['Rename', () => this.#askName(set, bar)],
        ['Duplicate', () => this.#duplicate(set)],
        ['Save as a file', () => download(set.text, set.file, 'application/yaml')],
        ['Delete', () => this.#delete(set)],
      ].map(([words, act]) => this.#named(/** @type {string} */ (words), /** @type {() => void} */ (act), set.file)),
    );
    row.append(name, title, bar);
    return row;
  }

  /**
   * A button that says to a screen reader what it is about.
   * @param {string} words
   * @param {() => void} act
   * @param {string} file
   */
  #named(words, act, file) {
    const made = button(words, act);
    made.setAttribute('aria-label', `${words}: ${file}`);
    return made;
  }

  /** @param {OwnSet} set */
  #open({file}) {
    takeInHand({file});
    location.href = new URL('../desk/write/', import.meta.url).href;
  }

  /**
   * @param {OwnSet} set
   * @param {HTMLElement} bar
   */
  #askName(set, bar) {
    const box = document.createElement('input');
    box.value = set.file;
    box.name = 'to';
    box.setAttribute('aria-label', `New name for ${set.file}`);
    const rename = () => this.#rename(set, box.value);
    box.addEventListener('keydown', ({key}) => {
      if (key === 'Enter') rename();
      if (key === 'Escape') this.#show();
    });
    const field = document.createElement('div');
    field.className = 'dw-field';
    const complaint = document.createElement('span');
    complaint.className = 'dw-complaint';
    complaint.dataset.for = 'to';
    field.append(box, complaint);
    bar.replaceChildren(field, button('Rename it', rename), button('Leave it', () => this.#show()));
    box.select();
    box.focus();
  }

  /**
   * @param {OwnSet} set
   * @param {string} to
   */
  async #rename(set, to) {
    if (ownSets().some(({file}) => file === to && file !== set.file)) {
      this.say(`${to} is there already. Choose another name.`, true);
      return;
    }
    const isStill = stillness();
    const answer = await this.ask({action: 'rename', ...set, to});
    if (!answer || !this.#keep(/** @type {any} */ (answer))) return;
    if (answer.file !== set.file) forgetOwnSet(set.file);
    this.#offer(`${answer.says}`, () => {
      forgetOwnSet(answer.file);
      this.#keep(set);
    }, isStill());
  }

  /** @param {OwnSet} set */
  async #duplicate(set) {
    const taken = JSON.stringify(Object.fromEntries(ownSets().map(({file}) => [file, ''])));
    const isStill = stillness();
    const answer = await this.ask({action: 'duplicate', ...set, taken});
    if (answer && this.#keep(/** @type {any} */ (answer))) this.#offer(answer.says, () => forgetOwnSet(answer.file), isStill());
  }

  /** @param {OwnSet} set */
  #delete(set) {
    forgetOwnSet(set.file);
    this.#offer(`${set.file} is deleted from this device.`, () => this.#keep(set));
  }

  /** @param {{file: string, text: string}} set */
  #keep({file, text}) {
    const kept = keepOwnSet({file, text});
    if (!kept) this.say('This device has no room for it. Save your sets as files.', true);
    return kept;
  }

  async #saveAll() {
    const sets = Object.fromEntries(ownSets().map(({file, text}) => [file, text]));
    const answer = await this.ask({action: 'write', sets: JSON.stringify(sets), settings: JSON.stringify(settings())}, {files: []});
    for (const [name, bytes] of Object.entries(answer?.made ?? {})) download(bytes, name);
  }

  /** @param {import('../engine/engine.js').Given} file */
  async #readAll(file) {
    if (file.content.size > LIMITS.deskFile) {
      this.say('That file is too large for a desk.', true);
      return;
    }
    const isStill = stillness();
    const answer = await this.ask({action: 'read'}, {files: [file]});
    if (!answer) return;
    const before = Object.fromEntries(ownSets().map((set) => [set.file, set.text]));
    const added = Object.entries(answer.sets).filter(([name, text]) => before[name] !== text);
    const names = added.map(([name, text]) => {
      const free = freeName(name, ownSets().map((set) => set.file));
      this.#keep({file: free, text});
      return free;
    });
    takeSettings(answer.settings);
    // On another computer one goes on with the set that came.
    if (names[0] && !('file' in inHand())) takeInHand({file: names[0]});
    const says = names.length ? `Read: ${listed(names)}.` : 'Read. Every set in it was here already.';
    this.#offer(says, () => names.forEach(forgetOwnSet), isStill());
  }

  #forgetAll() {
    const [sets, set, kept] = [ownSets(), settings(), keptOnDesk()];
    if (!kept.length) {
      this.say('There is nothing to forget.');
      return;
    }
    forgetDesk();
    this.#offer(`Forgotten: ${listed(kept)}.`, () => {
      sets.forEach((each) => this.#keep(each));
      takeSettings(set);
    });
  }

  /**
   * Say what was done, with a button that undoes it as long as nothing else is done.
   * @param {string} text
   * @param {() => void} undo
   * @param {boolean} [focused] whether the reader goes to that button
   */
  #offer(text, undo, focused = true) {
    this.#show();
    this.say(`${text} `);
    const back = button('Undo', () => {
      undo();
      this.#show();
      this.say('It is as it was.');
      /** @type {HTMLElement} */ (this.querySelector('[data-action="save"]')).focus();
    });
    this.status.append(back);
    if (focused) back.focus();
  }
}

/**
 * @param {string} name
 * @param {string[]} taken
 */
function freeName(name, taken) {
  let free = name;
  for (let n = 2; taken.includes(free); n++) free = name.replace(/(\.ya?ml)?$/i, ` (${n})$1`);
  return free;
}

/** @param {string[]} names */
function listed(names) {
  return new Intl.ListFormat('en').format(names);
}

customElements.define('desk-shelf', DeskShelf);
