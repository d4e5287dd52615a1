// What a form held before, change by change, to go back to.

const MOST = 100;

/** @typedef {Record<string, string>} Values */

export class FormHistory {
  /** @param {Values} values what the form holds now */
  constructor(values) {
    this.present = values;
    /** @type {Values[]} */
    this.past = [];
    this.last = '';
  }

  /**
   * Several changes of one field in a row are one change: a word that is typed, letter by letter.
   * @param {Values} values
   */
  note(values) {
    const names = changed(this.present, values);
    if (!names.length) return;
    const name = names.length === 1 ? names[0] : '';
    if (!name || name !== this.last) this.past.push(this.present);
    this.past.splice(0, this.past.length - MOST);
    this.last = name;
    this.present = values;
  }

  /** @returns {Values | undefined} what the form held before its last change */
  back() {
    const before = this.past.pop();
    this.last = '';
    this.present = before ?? this.present;
    return before;
  }
}

/**
 * @param {Values} before
 * @param {Values} after
 * @returns {string[]} the names of the fields that differ
 */
export function changed(before, after) {
  return [...new Set([...Object.keys(before), ...Object.keys(after)])].filter((name) => (before[name] ?? '') !== (after[name] ?? ''));
}
