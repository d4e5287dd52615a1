// What every interactive part does: ask Python, show its answer, and never lose what was typed.

import {UNABLE, engine, workshop} from '../../engine/engine.js';
import {addOwnChoices, linkedText, ownText} from './own.js';
import {wake} from '../../page/wake.js';

// The site's start: Python names pages from there, whatever page it answers.
const SITE = new URL('../../', import.meta.url);
const ALONE = document.documentElement.hasAttribute('data-alone');

export class LivePart extends HTMLElement {
  connectedCallback() {
    // The build has filled the element; an empty one has nothing to bring to life.
    if (!this.querySelector('form')) return;
    this.status = /** @type {HTMLElement} */ (this.querySelector(':scope > .dw-status, :scope > .dw-handin > .dw-status')) ?? this.#addStatus();
    this.gone = new AbortController();
    if (this.startsEngine) startWhenIdle();
    addOwnChoices(this);
    this.begin();
    if (!this.engine.able) this.say(UNABLE, true);
  }

  /** Where this part's questions go. */
  get engine() {
    return engine;
  }

  disconnectedCallback() {
    this.gone?.abort();
  }

  /** Whether Python starts as soon as the page is idle, or only when the part first asks. */
  get startsEngine() {
    return true;
  }

  /** What is said first where Python complains of a field. */
  get refusal() {
    return 'Not changed yet.';
  }

  /** Set up the part; for each part to write. */
  begin() {}

  /** @returns {HTMLElement} */
  get output() {
    return /** @type {HTMLElement} */ (this.querySelector('[data-output]'));
  }

  /**
   * Ask Python. Complaints are shown beside their fields; null is returned for them. Remarks are shown there too.
   * @param {Record<string, string>} fields
   * @param {import('../../engine/engine.js').Along} [along] a signal that gives up, files, and who hears how far it is
   * @returns {Promise<Record<string, any> | null>}
   */
  async ask(fields, along) {
    try {
      const asked = along?.files ? workshop : this.engine;
      const answer = await asked.ask({part: this.localName, fields, own: ownText(), linked: linkedText()}, along);
      this.complain(answer.complaints ?? {}, answer.remarks ?? {}, answer.offers ?? {});
      if (answer.complaints) {
        this.say(`${this.refusal} ${Object.values(answer.complaints).join(' ')}`, true);
        return null;
      }
      this.say(answer.says ?? '');
      return answer;
    } catch (error) {
      this.say(`${/** @type {Error} */ (error).message} What you typed is still here. Change it or press the button to try again.`, true);
      return null;
    }
  }

  /**
   * Tell the reader, and a screen reader, in one line.
   * @param {string} text
   * @param {boolean} [trouble]
   */
  say(text, trouble = false) {
    this.status.textContent = text;
    this.status.classList.toggle('dw-trouble', trouble);
  }

  /**
   * Show what is wrong beside each field; a field that is right loses what stood there. Remarks are shown there too.
   * @param {Record<string, string>} complaints
   * @param {Record<string, string>} [remarks]
   * @param {Record<string, string[]>} [offers] what a field may mean instead: a press writes it there
   */
  complain(complaints, remarks = {}, offers = {}) {
    for (const place of this.querySelectorAll('.dw-complaint')) {
      const name = /** @type {HTMLElement} */ (place).dataset.for ?? '';
      const control = seen(this.querySelector(`[name="${CSS.escape(name)}"]`));
      place.textContent = complaints[name] ?? remarks[name] ?? '';
      if (control instanceof HTMLInputElement) place.append(...(offers[name] ?? []).map((text) => offer(control, text)));
      place.classList.toggle('dw-remark', name in remarks);
      if (control) describe(control, place, name in complaints);
    }
  }

  #addStatus() {
    const status = document.createElement('p');
    status.className = 'dw-status';
    status.setAttribute('role', 'status');
    this.append(status);
    return status;
  }
}

/**
 * @param {Element | null} control
 * @returns {Element | null} the box that one sees and types in, where a list is chosen from by typing
 */
function seen(control) {
  return control?.closest('.dw-find')?.querySelector('[role="combobox"]') ?? control;
}

/**
 * A screen reader reads a complaint or a remark together with its field.
 * @param {Element} control
 * @param {Element} complaint where it is, or nothing is
 * @param {boolean} wrong
 */
function describe(control, complaint, wrong) {
  complaint.id ||= `${control.id}-complaint`;
  const others = (control.getAttribute('aria-describedby') ?? '').split(' ').filter((id) => id && id !== complaint.id);
  control.setAttribute('aria-describedby', (complaint.textContent ? [complaint.id, ...others] : others).join(' '));
  if (wrong) control.setAttribute('aria-invalid', 'true');
  else control.removeAttribute('aria-invalid');
}

/**
 * @param {HTMLInputElement} box
 * @param {string} text
 * @returns {HTMLButtonElement} writes the text into the box
 */
function offer(box, text) {
  const made = document.createElement('button');
  made.type = 'button';
  made.className = 'dw-offer';
  made.textContent = text;
  made.addEventListener('click', () => {
    box.value = text;
    box.focus();
    box.dispatchEvent(new Event('input', {bubbles: true}));
  });
  return made;
}

/** The drawings of empty places, by their names: the build drew them, and Python in the page has none. */
const pictures = /** @type {Map<string | undefined, Element>} */ (new Map());

/** @param {HTMLElement} place */
function keepPictures(place) {
  for (const each of place.querySelectorAll('[data-picture] > .dw-picture')) {
    pictures.set(each.parentElement?.dataset.picture, each);
  }
}

/** @param {HTMLElement} place */
function givePictures(place) {
  for (const each of /** @type {NodeListOf<HTMLElement>} */ (place.querySelectorAll('[data-picture]'))) {
    const drawn = pictures.get(each.dataset.picture);
    if (drawn && !each.querySelector(':scope > .dw-picture')) each.prepend(drawn.cloneNode(true));
  }
}

/**
 * Put Python's HTML in a place. It is built as a tree in Python, where a reader's text stays text.
 * @param {HTMLElement} place
 * @param {string} html
 */
export function fill(place, html) {
  write(place, () => (place.innerHTML = html));
}

/**
 * Write in a place: what the reader unfolded stays so, who was there stays there, and what comes is brought to life.
 * @param {HTMLElement} place
 * @param {() => void} change
 */
export function write(place, change) {
  const folds = new Map([...place.querySelectorAll('details')].map((each) => [titleOf(each), each.open]));
  const goBack = hold(place);
  keepPictures(place);
  change();
  givePictures(place);
  for (const each of place.querySelectorAll('details')) each.open = folds.get(titleOf(each)) ?? each.open;
  goBack();
  if (place.querySelector(':not(:defined)')) wake(place);
  for (const link of place.querySelectorAll('a[data-site]')) leadOn(link);
}

/**
 * Python names pages from the site's start. A page of a package has no other page beside it: the words stay.
 * @param {Element} link
 */
function leadOn(link) {
  if (!ALONE) link.setAttribute('href', new URL(link.getAttribute('data-site') ?? '', SITE).href);
  else if (link.matches('.dw-button')) link.remove();
  else link.replaceWith(...link.childNodes);
}

/**
 * @param {HTMLElement} place
 * @returns {() => void} takes who was in a box, or at a fold, back to it when the place is filled anew
 */
function hold(place) {
  const at = document.activeElement;
  if (!at || !place.contains(at)) return () => {};
  const name = at.getAttribute('name');
  const title = titleOf(at.closest('details'));
  return () => {
    if (at === document.activeElement) return;
    const box = name && place.querySelector(`[name="${CSS.escape(name)}"]`);
    const fold = box ? box.closest('details') : [...place.querySelectorAll('details')].find((each) => title && titleOf(each) === title);
    if (box && fold) fold.open = true;
    /** @type {HTMLElement | null | undefined} */ (box || fold?.querySelector('summary'))?.focus();
  };
}

/** @param {Element | null | undefined} details */
function titleOf(details) {
  return details?.querySelector('summary')?.textContent ?? '';
}

async function startWhenIdle() {
  // Not while the page itself still loads: the engine is large.
  if (document.readyState !== 'complete') await new Promise((loaded) => addEventListener('load', loaded, {once: true}));
  const idle = window.requestIdleCallback ?? ((start) => setTimeout(start, 1500));
  idle(() => engine.start(), {timeout: 4000});
}
