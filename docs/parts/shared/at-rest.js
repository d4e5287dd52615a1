// What waits until a reader has stopped typing for a moment.

export class AtRest {
  #timer = 0;
  #pause;
  #act;

  /**
   * @param {number} pause in milliseconds
   * @param {() => void} act
   */
  constructor(pause, act) {
    this.#pause = pause;
    this.#act = act;
  }

  /** Whether it is still to come. */
  get waits() {
    return this.#timer !== 0;
  }

  /** After the pause; from anew where it waits already. */
  soon() {
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => this.now(), this.#pause);
  }

  now() {
    clearTimeout(this.#timer);
    this.#timer = 0;
    this.#act();
  }
}
