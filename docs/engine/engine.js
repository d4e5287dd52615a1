// The page's way to Python: one worker a page, started when it is first needed.

/** @typedef {{part: string, fields: Record<string, string>, own?: string}} Request */
/** @typedef {Record<string, any>} Answer */

const START_LIMIT = 120_000;
const ANSWER_LIMIT = 20_000;

class Engine extends EventTarget {
  /** @type {Worker | null} */
  #worker = null;
  /** @type {Map<number, {resolve: (answer: Answer) => void, reject: (error: Error) => void, timer: number}>} */
  #waiting = new Map();
  #next = 1;
  #ready = false;

  /** Start Python, if it is not running yet. */
  start() {
    if (this.#worker) return;
    this.#say('starting');
    this.#ready = false;
    const worker = new Worker(new URL('worker.js', import.meta.url), {type: 'module'});
    worker.onmessage = (event) => this.#receive(event.data);
    worker.onerror = (event) => {
      event.preventDefault();
      this.#fail('The calculator could not start here.');
    };
    this.#worker = worker;
  }

  /**
   * Ask Python; the promise fails, in words for the reader, when no answer comes.
   * @param {Request} request
   * @returns {Promise<Answer>}
   */
  ask(request) {
    this.start();
    const id = this.#next++;
    return new Promise((resolve, reject) => {
      const limit = this.#ready ? ANSWER_LIMIT : START_LIMIT;
      const timer = setTimeout(() => this.#fail('The calculator did not answer.'), limit);
      this.#waiting.set(id, {resolve, reject, timer});
      this.#worker?.postMessage({id, request: JSON.stringify(request)});
    });
  }

  /** @param {{ready?: true, id?: number, answer?: string, error?: string}} message */
  #receive(message) {
    if (message.ready) {
      this.#ready = true;
      this.#say('ready');
      return;
    }
    if (message.id === undefined) {
      this.#fail(message.error ?? 'The calculator stopped.');
      return;
    }
    const waiting = this.#waiting.get(message.id);
    if (!waiting) return;
    clearTimeout(waiting.timer);
    this.#waiting.delete(message.id);
    if (message.answer === undefined) waiting.reject(new Error(message.error));
    else waiting.resolve(JSON.parse(message.answer));
  }

  /**
   * Give up this worker; the next question starts a new one.
   * @param {string} reason
   */
  #fail(reason) {
    this.#worker?.terminate();
    this.#worker = null;
    for (const {reject, timer} of this.#waiting.values()) {
      clearTimeout(timer);
      reject(new Error(reason));
    }
    this.#waiting.clear();
    this.#say('stopped');
  }

  /** @param {'starting' | 'ready' | 'stopped'} state */
  #say(state) {
    this.dispatchEvent(new CustomEvent('state', {detail: state}));
    document.documentElement.dataset.engine = state;
  }
}

export const engine = new Engine();
