// The log of first tries at problems, kept on this device for self-study. Python checks what is in it;
// here nothing is trusted.
//
// Two tabs may write in the same instant, and one list then takes the other's place. So
// an attempt first gets a shelf of its own, which no other tab writes to, and keeps it until it has
// stood in the list for a while.

import {LIMITS} from '../../page/limits.js';
import {forget, recall, recallText, remember, shelves} from './store.js';

const SHELF = 'study/log';
const OWN_SHELF = 'study/new/';
// In seconds. Tabs hear of each other's writing far sooner.
const A_WHILE = 60;
// A log that comes back from a file is not written in the same instant as another.
const A_FEW = 20;

/** @typedef {{id: string, when: number}} Attempt */

/** @type {Attempt[]} attempts that the device did not take; this page still knows them */
let unsaved = [];

/** @returns {{log: string, unsaved: string}} the log as Python reads it */
export function logFields() {
  mend();
  return {log: recallText(SHELF), unsaved: unsaved.length ? JSON.stringify(unsaved) : ''};
}

/**
 * Add attempts to what is in the log now. Of two with one id the older stays.
 * @param {Attempt[]} attempts
 * @returns {boolean} whether the device keeps them
 */
export function addAttempts(attempts) {
  if (!attempts.length) return true;
  const waiting = union([...unsaved, ...attempts]);
  for (const each of waiting.slice(-A_FEW)) remember(OWN_SHELF + each.id, each);
  const kept = remember(SHELF, union([...stored(), ...waiting]));
  unsaved = kept ? [] : waiting;
  return kept;
}

/** Bring back what another tab's list has left out. */
function mend() {
  const listed = listedAttempts();
  const known = new Set(listed.map(({id}) => id));
  const lost = [];
  for (const shelf of shelves(OWN_SHELF)) {
    const attempt = /** @type {Attempt} */ (recall(shelf, {}));
    if (!isAttempt(attempt)) forget(shelf);
    else if (!known.has(attempt.id)) lost.push(attempt);
    else if (attempt.when < Date.now() / 1000 - A_WHILE) forget(shelf);
  }
  if (lost.length) remember(SHELF, union([...listed, ...lost]));
}

/** @returns {Attempt[] | null} the attempts that were in the log; null when it cannot be emptied */
export function emptyLog() {
  const removed = union([...stored(), ...unsaved]);
  shelves(OWN_SHELF).forEach(forget);
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
  mend();
  return listedAttempts();
}

/** @returns {Attempt[]} */
function listedAttempts() {
  try {
    const kept = JSON.parse(recallText(SHELF) || '[]');
    return Array.isArray(kept) ? kept.filter(isAttempt) : [];
  } catch {
    return [];
  }
}

/** @param {any} kept */
function isAttempt(kept) {
  return typeof kept?.id === 'string';
}

/**
 * @param {Attempt[]} attempts
 * @returns {Attempt[]} one of each id, the newest as many as are kept
 */
function union(attempts) {
  /** @type {Map<string, Attempt>} */
  const found = new Map();
  for (const each of attempts) if (!found.has(each.id)) found.set(each.id, each);
  return [...found.values()].sort((a, b) => a.when - b.when).slice(-LIMITS.attempts);
}
