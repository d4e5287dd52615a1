// The log of first tries at problems, kept on this device for self-study. Python checks what is in it;
// here nothing is trusted. Two tabs may write: each reads again before it writes, and keeps both.

import {recallText, remember} from './store.js';

const SHELF = 'study/log';
// As exercises/study.py bounds it: the newest attempts are kept.
const MOST = 1_000;

/** @typedef {{id: string, when: number}} Attempt */

/** @type {Attempt[]} attempts that the device did not take; this page still knows them */
let unsaved = [];

/** @returns {{log: string, unsaved: string}} the log as Python reads it */
export function logFields() {
  return {log: recallText(SHELF), unsaved: unsaved.length ? JSON.stringify(unsaved) : ''};
}

/**
 * Add attempts to what stands in the log now. Of two with one id the older stays.
 * @param {Attempt[]} attempts
 * @returns {boolean} whether the device keeps them
 */
export function addAttempts(attempts) {
  if (!attempts.length) return true;
  const waiting = union([...unsaved, ...attempts]);
  const kept = remember(SHELF, union([...stored(), ...waiting]));
  unsaved = kept ? [] : waiting;
  return kept;
}

/** @returns {Attempt[] | null} the attempts that were in the log; null when it cannot be emptied */
export function emptyLog() {
  const removed = union([...stored(), ...unsaved]);
  if (!remember(SHELF, []) && stored().length) return null;
  unsaved = [];
  return removed;
}

/**
 * Tell when another tab writes the log.
 * @param {() => void} act
 * @param {AbortSignal} signal
 */
export function onOtherTab(act, signal) {
  addEventListener('storage', ({key}) => {
    if (key === null || key.endsWith(SHELF)) act();
  }, {signal});
}

/** @returns {Attempt[]} what looks like attempts in the store; nothing when it is damaged */
function stored() {
  try {
    const kept = JSON.parse(recallText(SHELF) || '[]');
    return Array.isArray(kept) ? kept.filter((each) => typeof each?.id === 'string') : [];
  } catch {
    return [];
  }
}

/**
 * @param {Attempt[]} attempts
 * @returns {Attempt[]} one of each id, the newest MOST
 */
function union(attempts) {
  /** @type {Map<string, Attempt>} */
  const found = new Map();
  for (const each of attempts) if (!found.has(each.id)) found.set(each.id, each);
  return [...found.values()].sort((a, b) => a.when - b.when).slice(-MOST);
}
