// The texts that a set had, for going back and forth: every change of the form or the text is a text.

const MOST = 200;

export class SetHistory {
  /** @type {string[]} */
  #past = [];
  /** @type {string[]} */
  #future = [];

  get canUndo() {
    return this.#past.length > 0;
  }

  get canRedo() {
    return this.#future.length > 0;
  }

  /** @param {string} text what a change has just taken the place of */
  add(text) {
    this.#past.push(text);
    if (this.#past.length > MOST) this.#past.shift();
    this.#future = [];
  }

  /** @param {string} now @returns {string | undefined} the text before */
  undo(now) {
    return step(this.#past, this.#future, now);
  }

  /** @param {string} now @returns {string | undefined} the text that was taken back */
  redo(now) {
    return step(this.#future, this.#past, now);
  }

  clear() {
    this.#past = [];
    this.#future = [];
  }
}

/**
 * @param {string[]} from
 * @param {string[]} to
 * @param {string} now
 */
function step(from, to, now) {
  const text = from.pop();
  if (text !== undefined) to.push(now);
  return text;
}
