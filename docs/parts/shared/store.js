// What stays on the reader's device. A store that is full, denied or broken never stops the page.

export const PREFIX = 'doughwater/';

/**
 * @template T
 * @param {string} name
 * @param {T} otherwise what to give when nothing (or nothing readable) is kept
 * @returns {T}
 */
export function recall(name, otherwise) {
  try {
    const text = localStorage.getItem(PREFIX + name);
    const kept = text === null ? otherwise : JSON.parse(text);
    return typeof kept === typeof otherwise && kept !== null ? kept : otherwise;
  } catch {
    return otherwise;
  }
}

/**
 * What is kept under a name, as the text it was kept as; nothing when there is none.
 * @param {string} name
 * @returns {string}
 */
export function recallText(name) {
  try {
    return localStorage.getItem(PREFIX + name) ?? '';
  } catch {
    return '';
  }
}

/**
 * @param {string} name
 * @param {unknown} value
 * @returns {boolean} whether it was kept
 */
export function remember(name, value) {
  try {
    localStorage.setItem(PREFIX + name, JSON.stringify(value));
    return true;
  } catch {
    return false;
  }
}

/**
 * Keep a text as `recallText` gave it.
 * @param {string} name
 * @param {string} text
 */
export function rememberText(name, text) {
  try {
    JSON.parse(text);
    localStorage.setItem(PREFIX + name, text);
  } catch {
    // What nothing can read, or what there is no room for, is not kept.
  }
}

/**
 * What this tab alone keeps, until it is closed.
 * @param {string} name
 * @returns {unknown}
 */
export function held(name) {
  try {
    return JSON.parse(sessionStorage.getItem(PREFIX + name) ?? 'null');
  } catch {
    return null;
  }
}

/**
 * @param {string} name
 * @param {unknown} value nothing is kept any more where it is null
 */
export function hold(name, value) {
  try {
    if (value === null) sessionStorage.removeItem(PREFIX + name);
    else sessionStorage.setItem(PREFIX + name, JSON.stringify(value));
  } catch {
    // A tab that keeps nothing still works.
  }
}

/** @param {string} name */
export function forget(name) {
  try {
    localStorage.removeItem(PREFIX + name);
  } catch {
    // What cannot be removed stays.
  }
}

/**
 * @param {string} start
 * @returns {string[]} the names under which something is kept, of those that start so
 */
export function shelves(start) {
  try {
    return Object.keys(localStorage)
      .filter((key) => key.startsWith(PREFIX + start))
      .map((key) => key.slice(PREFIX.length));
  } catch {
    return [];
  }
}

/**
 * @param {string} name
 * @returns {string} a student's name as Python compares names: capitals and room between words do not count
 */
export function plainName(name) {
  return name.normalize('NFKC').toLowerCase().trim().split(/\s+/u).join(' ');
}

/**
 * The entries of a kept object that have the right type.
 * @param {unknown} kept
 * @param {'string' | 'number' | 'object'} type
 * @returns {Record<string, any>}
 */
export function pairs(kept, type) {
  const fits = (/** @type {unknown} */ value) => typeof value === type && value !== null && !Array.isArray(value);
  return Object.fromEntries(Object.entries(kept ?? {}).filter(([, value]) => fits(value)));
}
