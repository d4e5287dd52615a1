// The page's way to Python: workers, started when they are first needed, and again when one is lost.

/** @typedef {{part: string, fields: Record<string, string>, own?: string, linked?: string}} Request */
/** @typedef {Record<string, any>} Answer */
/** A file for Python: its path from where it was chosen, and what is in it. @typedef {{path: string, content: Blob}} Given */
/** How far Python is. @typedef {{done: number, whole: number, words: string}} Progress */
/** What goes along with a question: a signal that gives up, files, and who hears how far it is. @typedef {{signal?: AbortSignal, files?: Given[], heard?: (progress: Progress) => void}} Along */
/** @typedef {{resolve: (answer: Answer) => void, reject: (error: Error) => void, request: string, along: Along, lost: number, timer: number}} Waiting */

/** How long to wait, in milliseconds, for Python to start and then for one answer. */
export const limits = {start: 120_000, answer: 20_000};

const ABLE = ['Worker', 'WebAssembly', 'DecompressionStream'].every((name) => name in globalThis);
export const UNABLE =
  'This browser is too old to compute here, or computing is switched off in it. The page shows one worked example; a newer browser works out your own numbers.';

/**
 * Where the last worker left Pyodide's compiled code for the next. The page itself never opens it:
 * its policy runs no WebAssembly, and Firefox then lets it hold none.
 * @type {MessagePort | undefined}
 */
let compiled;

class Engine {
  /** @type {Worker | null} */
  #worker = null;
  /** @type {Map<number, Waiting>} */
  #waiting = new Map();
  #next = 1;
  #plain = false;
  #ownCode;

  /** @param {boolean} ownCode whether it runs what a reader wrote, which may not end or import anything */
  constructor(ownCode) {
    this.#ownCode = ownCode;
  }

  /** Whether this browser can run Python at all. */
  get able() {
    return ABLE;
  }

  /** Start Python, if it is not running yet. */
  start() {
    if (this.#worker || !ABLE) return;
    this.#say('starting');
    const worker = earlyWorker() ?? new Worker(new URL('worker.js', import.meta.url), {type: 'module'});
    const lock = `doughwater/worker/${Date.now()}-${Math.random()}`;
    const {port1: leave, port2: left} = new MessageChannel();
    worker.onmessage = ({data}) => {
      if (data.ready) compiled = left;
      if (data.alive) this.#watch(worker, lock);
      else this.#receive(data);
    };
    worker.onerror = (event) => {
      event.preventDefault();
      this.#lose('The calculator could not start here.');
    };
    worker.postMessage({lock, leave, take: compiled, plain: this.#plain}, compiled ? [leave, compiled] : [leave]);
    compiled = undefined;
    this.#worker = worker;
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
    this.#limit(waiting, limits.start, () => {
      this.#plain = true;
      this.#lose('The calculator did not start.');
    });
    this.#worker?.postMessage({id, request: waiting.request, library: this.#ownCode, files: waiting.along.files});
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
      this.#say('ready', how);
      return;
    }
    const waiting = id === undefined ? undefined : this.#waiting.get(id);
    if (!waiting) {
      if (id === undefined) this.#giveUp(error ?? 'The calculator stopped.');
    } else if (began || progress) {
      if (progress) waiting.along.heard?.(progress);
      this.#limit(waiting, limits.answer, () => this.#lose(this.#tooLong(), id));
    } else if (broken) {
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
   * A worker holds its lock as long as it lives.
   * @param {Worker} worker
   * @param {string} lock
   */
  #watch(worker, lock) {
    navigator.locks.request(lock, () => {
      if (this.#worker === worker) this.#lose('The calculator stopped.');
    });
  }

  /**
   * Let this worker go. The question that is to blame fails; each other is asked once more.
   * @param {string} reason
   * @param {number} [blamed]
   */
  #lose(reason, blamed) {
    this.#end();
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

  #end() {
    this.#worker?.terminate();
    this.#worker = null;
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

/** @returns {Worker | undefined} the worker that early.js began, for the first who asks */
function earlyWorker() {
  const worker = window.doughwaterWorker;
  delete window.doughwaterWorker;
  return worker;
}

/** For the parts. */
export const engine = new Engine(false);
/** For code that a reader wrote: it may run for ever, or change our modules, and the parts go on. */
export const playground = new Engine(true);
