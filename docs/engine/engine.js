// The page's way to Python: workers, started when they are first needed, and again when one is lost.
// The parts' worker is shared by the pages of a visit, where the browser can: Python starts once.

import {VERSION} from './built.js';

/** @typedef {{part: string, fields: Record<string, string>, own?: string, linked?: string}} Request */
/** @typedef {Record<string, any>} Answer */
/** A file for Python: its path from where it was chosen, and what is in it. @typedef {{path: string, content: Blob}} Given */
/** How far Python is. @typedef {{done: number, whole: number, words: string}} Progress */
/** What goes along with a question: a signal that gives up, files, and who hears how far it is. @typedef {{signal?: AbortSignal, files?: Given[], heard?: (progress: Progress) => void}} Along */
/** @typedef {{resolve: (answer: Answer) => void, reject: (error: Error) => void, request: string, along: Along, lost: number, timer: number}} Waiting */

/** How long to wait, in milliseconds, for Python to start and then for one answer. */
export const limits = {start: 120_000, answer: 20_000};

const ABLE = ['Worker', 'WebAssembly'].every((name) => name in globalThis);
export const UNABLE =
  'This browser is too old to compute here, or computing is switched off in it. The page shows one worked example; a newer browser works out your own numbers.';

/**
 * Where the last worker left Pyodide's compiled code for the next. The page itself never opens it:
 * its policy runs no WebAssembly, and Firefox then lets it hold none.
 * @type {MessagePort | undefined}
 */
let compiled;

// Under which a tab counts the shared workers that it gave up: a page cannot end one that hangs.
const GIVEN_UP = 'doughwater/engine-lost';
// After so many milliseconds a shared worker that owes an answer may have died. Most answers take a tenth of them.
const DOUBT = 200;

/** A worker of the page's own, or its port to one that pages share. @typedef {Worker | MessagePort} Line */

class Engine {
  /** @type {Line | null} */
  #worker = null;
  /** The lock of this worker, which no other has. */
  #alive = '';
  /** What belongs to the name of a shared worker of this version, beside one of another. */
  #apart = '';
  /** @type {Map<number, Waiting>} */
  #waiting = new Map();
  #next = 1;
  #plain = false;
  #ready = false;
  #ownCode;
  #shared;

  /**
   * @param {boolean} ownCode whether it runs what a reader wrote, which may not end or import anything
   * @param {boolean} shared whether the pages of a visit share it
   */
  constructor(ownCode, shared) {
    this.#ownCode = ownCode;
    this.#shared = shared;
    // The worker may live on: what was asked of it goes with its page.
    addEventListener('pagehide', () => this.#worker?.postMessage({leaves: true}));
  }

  /** Whether this browser can run Python at all. */
  get able() {
    return ABLE;
  }

  /** Start Python, if it is not running yet. */
  start() {
    if (this.#worker || !ABLE) return;
    this.#say('starting');
    const worker = this.#open();
    worker.onmessage = ({data}) => {
      if (data.ready && !isShared(worker)) compiled = left;
      if (data.other) this.#apartFrom(worker);
      else if (data.alive) this.#watch(worker, data.alive);
      else this.#receive(data);
    };
    const {port1: leave, port2: left} = new MessageChannel();
    const how = {start: true, plain: this.#plain};
    this.#worker = worker;
    this.#alive = '';
    // Compiled code goes from worker to worker of one page; a shared one is too far away for it.
    if (isShared(worker)) return worker.postMessage({...how, version: VERSION});
    worker.postMessage({...how, leave, take: compiled}, compiled ? [leave, compiled] : [leave]);
    compiled = undefined;
  }

  /** A reader is in a field, and will ask: the pages' Python practises meanwhile. */
  expect() {
    if (!this.#shared) return;
    this.start();
    if (this.#worker && isShared(this.#worker)) this.#worker.postMessage({soon: true});
  }

  /** @returns {Line} */
  #open() {
    const fail = (/** @type {Event} */ event) => {
      event.preventDefault();
      this.#lose('The calculator could not start here.');
    };
    const made = (this.#shared && !givenUp() && earlyWorker()) || this.#made();
    made.onerror = fail;
    return 'port' in made ? made.port : made;
  }

  /** @returns {Worker | SharedWorker} */
  #made() {
    const url = new URL('worker.js', import.meta.url);
    const name = `python${givenUp()}${this.#apart}`;
    if (!this.#shared || !window.SharedWorker) return new Worker(url, {type: 'module'});
    return new SharedWorker(url, /** @type {WorkerOptions} */ ({type: 'module', name, extendedLifetime: true}));
  }

  /**
   * A shared worker that an older version of the site began: it is left to its pages.
   * @param {Line} worker
   */
  #apartFrom(worker) {
    if (worker !== this.#worker) return;
    // Where that of our name is another's too, the page has one of its own.
    this.#shared &&= !this.#apart;
    this.#apart = ` ${VERSION}`;
    this.#worker = null;
    for (const waiting of this.#waiting.values()) waiting.lost = 0;
    this.start();
    for (const id of this.#waiting.keys()) this.#send(id);
  }

  /**
   * Ask Python; the promise fails, in words for the reader, when no answer comes.
   * With files, what Python made of them comes as `made`, by name. Giving up lets the worker go.
   * @param {Request} request
   * @param {Along} [along]
   * @returns {Promise<Answer>}
   */
  ask(request, along = {}) {
    if (!ABLE) return Promise.reject(new Error(UNABLE));
    this.start();
    const id = this.#next++;
    return new Promise((resolve, reject) => {
      this.#waiting.set(id, {resolve, reject, request: JSON.stringify(request), along, lost: 0, timer: 0});
      this.#send(id);
      along.signal?.addEventListener('abort', () => this.#waiting.has(id) && this.#lose('Stopped.', id));
    });
  }

  /** @param {number} id */
  #send(id) {
    const waiting = this.#waiting.get(id);
    if (!waiting) return;
    if (this.#ready && this.#shared) {
      // It started long ago, and hears of nothing: it hangs with another page's question.
      this.#limit(waiting, limits.answer, () => this.#lose(this.#tooLong()));
    } else {
      this.#limit(waiting, limits.start, () => {
        this.#plain = true;
        this.#lose('The calculator did not start.');
      });
    }
    const worker = this.#worker;
    worker?.postMessage({id, request: waiting.request, library: this.#ownCode, files: waiting.along.files});
    if (worker && isShared(worker)) setTimeout(() => this.#waiting.has(id) && this.#doubt(worker), DOUBT);
  }

  /**
   * @param {Waiting} waiting
   * @param {number} limit
   * @param {() => void} act
   */
  #limit(waiting, limit, act) {
    clearTimeout(waiting.timer);
    waiting.timer = setTimeout(act, limit);
  }

  /** @param {{ready?: true, how?: string, id?: number, began?: true, progress?: Progress, answer?: string, made?: Record<string, Uint8Array>, error?: string, broken?: boolean}} message */
  #receive({ready, how, id, began, progress, answer, made, error, broken}) {
    if (ready) {
      this.#ready = true;
      this.#say('ready', how);
      return;
    }
    const waiting = id === undefined ? undefined : this.#waiting.get(id);
    if (!waiting) {
      if (id === undefined) this.#giveUp(error ?? 'The calculator stopped.');
    } else if (began || progress) {
      if (progress) waiting.along.heard?.(progress);
      this.#limit(waiting, limits.answer, () => this.#lose(this.#tooLong(), id));
    } else if (broken || (error && this.#ownCode)) {
      // A reader's code may have left nothing of our functions that could answer; the next Python has them all.
      this.#lose(error ?? '', id);
    } else {
      clearTimeout(waiting.timer);
      this.#waiting.delete(/** @type {number} */ (id));
      if (answer === undefined) waiting.reject(new Error(error));
      else waiting.resolve({...JSON.parse(answer), ...(made && {made})});
    }
  }

  #tooLong() {
    const seconds = limits.answer / 1000;
    return this.#ownCode
      ? `The code ran for ${seconds} seconds and did not end, so it was stopped.`
      : 'The calculator did not answer.';
  }

  /**
   * A worker of the page's own holds its lock as long as it lives.
   * @param {Line} worker
   * @param {string} lock
   */
  #watch(worker, lock) {
    if (worker === this.#worker) this.#alive = lock;
    if (isShared(worker)) return;
    navigator.locks.request(lock, {mode: 'shared'}, () => {
      if (this.#worker === worker) this.#lose('The calculator stopped.');
    });
  }

  /**
   * No page hears a shared worker die: asked for by its name once more, another answers where it did.
   * @param {MessagePort} worker
   */
  #doubt(worker) {
    if (worker !== this.#worker || !this.#alive) return;
    const {port} = /** @type {SharedWorker} */ (this.#made());
    port.onmessage = ({data}) => {
      if (!data.alive) return;
      port.close();
      if (worker === this.#worker && data.alive !== this.#alive) this.#lose('The calculator stopped.', undefined, true);
    };
    port.postMessage({start: true, plain: this.#plain, version: VERSION});
  }

  /**
   * Let this worker go. The question that is to blame fails; each other is asked once more.
   * @param {string} reason
   * @param {number} [blamed]
   * @param {boolean} [died]
   */
  #lose(reason, blamed, died) {
    this.#end(died);
    for (const [id, waiting] of this.#waiting) {
      waiting.lost += id === blamed ? 2 : 1;
      if (waiting.lost > 1) this.#refuse(id, waiting, reason);
    }
    if (!this.#waiting.size) return;
    this.start();
    for (const id of this.#waiting.keys()) this.#send(id);
  }

  /** @param {string} reason */
  #giveUp(reason) {
    this.#end();
    for (const [id, waiting] of this.#waiting) this.#refuse(id, waiting, reason);
  }

  /**
   * @param {number} id
   * @param {Waiting} waiting
   * @param {string} reason
   */
  #refuse(id, {reject, timer}, reason) {
    clearTimeout(timer);
    this.#waiting.delete(id);
    reject(new Error(reason));
  }

  /** @param {boolean} [died] then its name is free for the next */
  #end(died) {
    const worker = this.#worker;
    this.#worker = null;
    this.#ready = false;
    if (worker && isShared(worker)) {
      // It may hang, and no page can end it: this tab asks another from now on.
      if (!died) giveUp();
      worker.close();
    } else /** @type {Worker | null} */ (worker)?.terminate();
    this.#say('stopped');
  }

  /**
   * Other scripts wait for the page's own engine; what readers' code runs in concerns nobody.
   * @param {'starting' | 'ready' | 'stopped'} state
   * @param {string} [how]
   */
  #say(state, how) {
    if (this.#ownCode) return;
    document.documentElement.dataset.engine = state;
    if (how) document.documentElement.dataset.engineStart = how;
  }
}

/**
 * @param {Line} line
 * @returns {line is MessagePort}
 */
function isShared(line) {
  return line instanceof MessagePort;
}

/** @returns {string} what this tab gave up, as a part of a worker's name */
function givenUp() {
  try {
    return sessionStorage.getItem(GIVEN_UP) ?? '';
  } catch {
    return '';
  }
}

function giveUp() {
  try {
    sessionStorage.setItem(GIVEN_UP, String(Number(givenUp()) + 1));
  } catch {
    // Without a store the same one is asked again, which a fresh start mends where it has died.
  }
}

/** @returns {Worker | SharedWorker | undefined} the worker that early.js began, for the first who asks */
function earlyWorker() {
  const worker = window.doughwaterWorker;
  delete window.doughwaterWorker;
  return worker;
}

/** For the parts. */
export const engine = new Engine(false, true);
/** For long work with files, which a reader may stop. */
export const workshop = new Engine(false, false);
/** For code that a reader wrote: it may run for ever, or change our modules, and the parts go on. */
export const playground = new Engine(true, false);
