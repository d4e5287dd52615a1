// <set-giver>: the set in hand as a link, a code, a file and a package. Nothing is sent anywhere.

import {download} from './shared/download.js';
import {inHand, keepOwnSet, onSet, setFields} from './shared/desk.js';
import {LivePart, fill} from './shared/live-part.js';
import {printAlone} from './shared/print-alone.js';
import {ProgressBar} from './shared/progress-bar.js';

// The site's start, wherever it is hosted.
const SITE = new URL('../', import.meta.url).href;
// What packages of pages are made of (docs/build/package_kit.py).
const KITS = 'package/';

class SetGiver extends LivePart {
  get refusal() {
    return 'Not given out yet.';
  }

  begin() {
    /** @type {Record<string, any>} */
    this.answer = {};
    this.dueForm = /** @type {HTMLFormElement} */ (this.querySelector('[data-due]'));
    this.dueBox = /** @type {HTMLInputElement} */ (this.querySelector('[name="due"]'));
    this.packing = /** @type {HTMLFormElement} */ (this.querySelector('[data-package]'));
    this.bar = new ProgressBar(this.packing, () => this.stop?.abort());
    this.output.addEventListener('click', (event) => this.#pressed(event));
    this.dueForm.addEventListener('submit', (event) => event.preventDefault());
    this.dueBox.addEventListener('change', () => this.#setDue());
    this.packing.addEventListener('submit', (event) => {
      event.preventDefault();
      this.#package();
    });
    onSet(() => this.#link(), this.gone.signal);
    this.#link();
  }

  async #link() {
    const own = 'file' in inHand();
    this.dueForm.hidden = !own;
    const answer = await this.ask({...setFields(), site: SITE, action: 'link'});
    if (!answer) return;
    this.answer = answer;
    if (this.dueBox !== document.activeElement) this.dueBox.value = answer.due ? local(answer.due) : '';
    fill(this.output, answer.html);
    const share = /** @type {HTMLElement | null} */ (this.output.querySelector('[data-action="share"]'));
    if (share) share.hidden = !('share' in navigator);
  }

  /** @param {Event} event */
  #pressed(event) {
    const action = /** @type {HTMLElement} */ (event.target).closest('button')?.dataset.action;
    const code = /** @type {HTMLElement | null} */ (this.output.querySelector('.dw-qr'));
    if (action === 'copy-link') this.#copy('#give-link', 'The link is copied.');
    if (action === 'copy-words') this.#copy('#give-words', 'The message is copied.');
    if (action === 'share') this.#share();
    if (action === 'save') this.#save(this.answer.file, this.answer.filename, 'application/yaml');
    if (action === 'save-code') this.#save(this.answer.svg, this.answer.svgname, 'image/svg+xml');
    if (action === 'large') code?.requestFullscreen().catch(() => this.say('This browser shows nothing full-screen. Print the code, or enlarge the page.', true));
    if (action === 'print' && code) printAlone(code);
  }

  /**
   * @param {string} box
   * @param {string} done what to say then
   */
  async #copy(box, done) {
    const text = /** @type {HTMLTextAreaElement} */ (this.output.querySelector(box));
    try {
      await navigator.clipboard.writeText(text.value);
      this.say(done);
    } catch {
      text.select();
      this.say('This browser lets no page copy. The text is marked: copy it with the keyboard.', true);
    }
  }

  async #share() {
    const [link, words] = ['#give-link', '#give-words'].map((box) => /** @type {HTMLTextAreaElement} */ (this.output.querySelector(box)).value);
    try {
      await navigator.share({title: words.split('\n')[0], url: link});
    } catch {
      // Whoever closes the sheet wanted nothing else.
    }
  }

  /**
   * @param {string} content
   * @param {string} name
   * @param {string} type
   */
  #save(content, name, type) {
    download(content, name, type);
    this.say(`${name} is saved.`);
  }

  /** A due time belongs to the set: it is written into its text. */
  async #setDue() {
    const hand = inHand();
    if (!('file' in hand)) return;
    const {value} = this.dueBox;
    const answer = await this.ask({...hand, due: value && withZone(value), action: 'due'});
    if (answer && answer.text !== hand.text) keepOwnSet({file: hand.file, text: answer.text});
  }

  /**
   * @param {string} hold what the package holds: the set, its lesson too, or the course
   * @returns {Promise<import('../engine/engine.js').Given[] | null>} the site's own files that it needs
   */
  async #kit(hold) {
    try {
      const set = await this.#fetched('kit');
      const {lessons} = await listed(set);
      const wanted = hold === 'course' ? lessons : lessons.filter((/** @type {string} */ key) => hold === 'lesson' && key === this.answer.lesson);
      const kits = [set, ...(await Promise.all(wanted.map((/** @type {string} */ key) => this.#fetched(key))))];
      const names = new Set((await Promise.all(kits.map(listed))).flatMap(({files}) => files));
      return [...kits, ...(await Promise.all([...names].map((path) => fetched(path, this.stop?.signal))))];
    } catch {
      this.say(this.stop?.signal.aborted ? 'Stopped.' : 'Not all files of the site could be had. Is the network there? Try again.', true);
      return null;
    }
  }

  /** @param {string} name of a kit */
  #fetched(name) {
    return fetched(`${KITS}${name}.json`, this.stop?.signal);
  }

  async #package() {
    this.stop = new AbortController();
    this.bar.show({done: 0, whole: 0, words: 'Writing'});
    const typed = /** @type {Record<string, string>} */ (Object.fromEntries(new FormData(this.packing)));
    const files = typed.as.startsWith('scorm') ? await this.#kit(typed.hold) : [];
    const answer = files && (await this.ask({...typed, ...setFields(), action: 'package'}, {files, signal: this.stop.signal, heard: (how) => this.bar.show(how)}));
    this.bar.hide();
    for (const [name, bytes] of Object.entries(answer?.made ?? {})) download(/** @type {Uint8Array} */ (bytes), name, 'application/zip');
  }
}

/**
 * @param {import('../engine/engine.js').Given} kit
 * @returns {Promise<{files: string[], lessons: string[]}>}
 */
async function listed({content}) {
  return JSON.parse(await content.text());
}

/**
 * @param {string} path from the site's start
 * @param {AbortSignal} [signal]
 * @returns {Promise<import('../engine/engine.js').Given>}
 */
async function fetched(path, signal) {
  const response = await fetch(SITE + path, {signal});
  if (!response.ok) throw new Error(path);
  return {path, content: await response.blob()};
}

/**
 * @param {string} value a date and time on the teacher's clock, as the box gives it
 * @returns {string} as a set holds it, with how far that clock is from UTC on that day
 */
function withZone(value) {
  const minutes = -new Date(value).getTimezoneOffset();
  const two = (/** @type {number} */ number) => String(Math.trunc(Math.abs(number))).padStart(2, '0');
  return `${value.replace('T', ' ')} ${minutes < 0 ? '-' : '+'}${two(minutes / 60)}:${two(minutes % 60)}`;
}

/**
 * @param {number} seconds since 1970
 * @returns {string} on this device's clock, as the box takes it
 */
function local(seconds) {
  const moment = new Date(seconds * 1000);
  return new Date(moment.getTime() - moment.getTimezoneOffset() * 60_000).toISOString().slice(0, 16);
}

customElements.define('set-giver', SetGiver);
