// What every interactive part does: ask Python, show its answer, and never lose what was typed.

import {UNABLE, engine, workshop} from '../../engine/engine.js';
import {addOwnChoices, linkedText, ownText} from './own.js';
import {letGo} from './pressed.js';
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
    this.addEventListener('focusin', () => this.engine.expect(), {once: true});
    if (!document.prerendering) addOwnChoices(this);
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

  /** @param {Record<string, () => void>} acts what the buttons that the build wrote do, by their `data-action` */
  hear(acts) {
    for (const [name, act] of Object.entries(acts)) this.querySelector(`[data-action="${name}"]`)?.addEventListener('click', act);
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
      // Whoever presses what the answer takes away shall find it until the press has ended.
      await letGo();
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
 * @param {() => void} [putBack] puts into its boxes what readers wrote, before the caret goes back
 */
export function fill(place, html, putBack) {
  write(place, () => (place.innerHTML = html), putBack);
}

/**
 * Write in a place: what the reader unfolded stays so, who was there stays there, and what comes is brought to life.
 * @param {HTMLElement} place
 * @param {() => void} change
 * @param {() => void} [putBack] puts into its boxes what readers wrote, before the caret goes back
 */
export function write(place, change, putBack) {
  const folds = new Map([...named(place, 'details')].map(([name, each]) => [name, /** @type {HTMLDetailsElement} */ (each).open]));
  const goBack = hold(place);
  keepPictures(place);
  change();
  givePictures(place);
  for (const [name, each] of named(place, 'details')) {
    const fold = /** @type {HTMLDetailsElement} */ (each);
    fold.open = folds.get(name) ?? fold.open;
  }
  putBack?.();
  goBack();
  if (place.querySelector(':not(:defined)')) wake(place);
  for (const link of place.querySelectorAll('a[data-site]')) leadOn(link);
}

/**
 * For `fill`, where readers write in what Python wrote: a box that it writes as before keeps what was written meanwhile.
 * @param {HTMLElement} place
 * @returns {() => void}
 */
export function writtenIn(place) {
  const written = new Map([...named(place, BOXES)].map(([name, each]) => [name, holding(each)]));
  return () => {
    for (const [name, each] of named(place, BOXES)) {
      const [before, now] = written.get(name) ?? [];
      if (before !== now && before === holding(each)[0]) takeBack(each, now ?? '');
    }
  };
}

const BOXES = 'input, select, textarea';
const REACHED = `${BOXES}, a, button, summary, [tabindex]`;

/**
 * @param {Element} box
 * @returns {[string, string]} what it held when Python wrote it, and what it holds now
 */
function holding(box) {
  if (box instanceof HTMLSelectElement) return [[...box.options].find((one) => one.defaultSelected)?.value ?? box.options[0]?.value ?? '', box.value];
  const {type, checked, defaultChecked, value, defaultValue} = /** @type {HTMLInputElement} */ (box);
  return type === 'checkbox' || type === 'radio' ? [String(defaultChecked), String(checked)] : [defaultValue, value];
}

/**
 * @param {Element} box
 * @param {string} held
 */
function takeBack(box, held) {
  const control = /** @type {HTMLInputElement} */ (box);
  if (control.type === 'checkbox' || control.type === 'radio') control.checked = held === 'true';
  else control.value = held;
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
 * @returns {() => void} takes who was in a box, or at a button, a link or a fold, back to it when the place is filled anew
 */
function hold(place) {
  const at = /** @type {HTMLInputElement | null} */ (document.activeElement);
  if (!at || !place.contains(at)) return () => {};
  const name = [...named(place, REACHED)].find(([, each]) => each === at)?.[0];
  const caret = at.matches('input, textarea') ? [at.selectionStart, at.selectionEnd] : [];
  const fold = [...named(place, 'details')].findLast(([, each]) => each.contains(at))?.[0];
  return () => {
    if (at === document.activeElement) return;
    const again = /** @type {HTMLInputElement | undefined} */ (name && named(place, REACHED).get(name));
    const around = fold && named(place, 'details').get(fold);
    if (again?.matches(BOXES)) again.closest('details')?.setAttribute('open', '');
    (again ?? around?.querySelector('summary'))?.focus({preventScroll: true});
    if (again && typeof caret[0] === 'number' && again.selectionStart !== null) again.setSelectionRange(caret[0], caret[1] ?? null);
  };
}

/**
 * What is found in a place, each under a name that it has again when Python writes the place anew: by what it is for,
 * else by its words, and of several alike by their order.
 * @param {HTMLElement} place
 * @param {string} selector
 * @returns {Map<string, Element>}
 */
function named(place, selector) {
  const found = new Map();
  /** @type {Record<string, number>} */
  const alike = {};
  for (const each of /** @type {NodeListOf<HTMLElement>} */ (place.querySelectorAll(selector))) {
    const problem = /** @type {HTMLElement | null} */ (each.closest('[data-problem]'))?.dataset.problem ?? '';
    const name = [problem, each.localName, purpose(each)].join('\n');
    alike[name] = (alike[name] ?? 0) + 1;
    found.set(`${name}\n${alike[name]}`, each);
  }
  return found;
}

/** @param {HTMLElement} each */
function purpose(each) {
  const {name, type} = /** @type {HTMLInputElement} */ (each);
  if (each.matches(BOXES)) return [name, type, type === 'radio' || type === 'checkbox' ? each.getAttribute('value') : ''].join('\n');
  if (each.matches('details')) return each.querySelector('summary')?.textContent ?? '';
  if (each.matches('a')) return each.dataset.site ?? each.getAttribute('href') ?? '';
  return Object.keys(each.dataset).length ? JSON.stringify(each.dataset) : each.textContent ?? '';
}

async function startWhenIdle() {
  // Not while the page itself still loads: the engine is large.
  if (document.readyState !== 'complete') await new Promise((loaded) => addEventListener('load', loaded, {once: true}));
  const idle = window.requestIdleCallback ?? ((start) => setTimeout(start, 1500));
  idle(() => engine.start(), {timeout: 4000});
}
