// Keeps the site on the reader's device, says so quietly, and offers a new version when there is one.
// Where that cannot work (no service worker, a store that is full or denied) nothing is said.

import {SIZE, VERSION} from './version.js';

const WORKER = new URL('../sw.js', import.meta.url);
const READY = 'Ready for offline use: lessons, sets and calculator are kept on this device.';
const NEW = 'A new version of this site is ready.';
const ALONE = 'A new version of this site is ready. Close the other tabs of this site, then press the button.';

class Line {
  #place = document.createElement('aside');
  #text = document.createElement('span');

  constructor() {
    this.#place.className = 'dw-offline';
    this.#place.setAttribute('aria-label', 'This site on your device');
    // Always there, so that a screen reader notices when it fills.
    this.#text.setAttribute('role', 'status');
    this.#place.append(this.#text);
    document.body.append(this.#place);
  }

  /** @param {string} text */
  say(text) {
    this.#text.textContent = text;
  }

  /**
   * Say something that the reader may want to act on; it stays in sight.
   * @param {string} text
   * @param {string} label
   * @param {() => void} act
   */
  offer(text, label, act) {
    this.say(text);
    this.withdraw();
    const button = document.createElement('button');
    button.type = 'button';
    button.className = 'dw-button dw-quiet';
    button.textContent = label;
    button.addEventListener('click', act);
    this.#place.append(button);
    this.#place.classList.add('dw-offer');
  }

  withdraw() {
    this.#place.querySelector('button')?.remove();
    this.#place.classList.remove('dw-offer');
  }
}

/** @param {Line} line */
async function keep(line) {
  try {
    const registration = await navigator.serviceWorker.register(WORKER, {updateViaCache: 'none'});
    watchForNew(registration, line);
    const worker = (await navigator.serviceWorker.ready).active;
    if (!worker) return;
    if (!navigator.serviceWorker.controller) await ask(worker, 'claim');
    if ((await ask(worker, 'stored')) && !registration.waiting) line.say(READY);
  } catch {
    // The site works as before, from the network.
  }
}

/**
 * @param {ServiceWorkerRegistration} registration
 * @param {Line} line
 */
function watchForNew(registration, line) {
  const look = () => {
    if (registration.waiting && navigator.serviceWorker.controller) offerNew(registration.waiting, line);
  };
  registration.addEventListener('updatefound', () => registration.installing?.addEventListener('statechange', look));
  document.addEventListener('visibilitychange', () => {
    if (!document.hidden) registration.update().catch(() => {});
  });
  look();
}

/**
 * @param {ServiceWorker} worker
 * @param {Line} line
 * @param {string} [text]
 */
function offerNew(worker, line, text = NEW) {
  line.offer(text, 'Use the new version', async () => {
    const changed = new Promise((resolve) => {
      navigator.serviceWorker.addEventListener('controllerchange', resolve, {once: true});
    });
    // A page that was loaded ahead counts as open, and goes with the rules that it came by.
    document.querySelector('script[type="speculationrules"]')?.remove();
    if (!(await ask(worker, 'take over'))) return offerNew(worker, line, ALONE);
    await changed;
    location.reload();
  });
}

/**
 * @param {ServiceWorker} worker
 * @param {'stored' | 'claim' | 'take over'} question
 * @returns {Promise<boolean>}
 */
function ask(worker, question) {
  return new Promise((resolve) => {
    const {port1, port2} = new MessageChannel();
    port1.onmessage = ({data}) => resolve(data);
    worker.postMessage({ask: question, version: VERSION}, [port2]);
  });
}

async function start() {
  const line = new Line();
  const saving = /** @type {any} */ (navigator).connection?.saveData;
  if (saving && !(await navigator.serviceWorker.getRegistration(WORKER))) {
    line.offer(`Keep this site for offline use? It takes about ${Math.ceil(SIZE / 1e6)} MB.`, 'Keep it', () => {
      line.withdraw();
      line.say('');
      keep(line);
    });
    return;
  }
  await keep(line);
}

if (navigator.serviceWorker) start().catch(() => {});
