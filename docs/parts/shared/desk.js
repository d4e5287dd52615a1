// The teacher's own sets, as this device keeps them, and the set in hand. Each set is kept under its own
// name, so that two tabs lose nothing of each other's.

import {forget, recall, remember, shelves} from './store.js';

/** A set of one's own: its file's name, and its text. @typedef {{file: string, text: string}} OwnSet */
/** One of ours by its key, or one's own. @typedef {{set: string} | OwnSet} Set */

const SHELF = 'set/';
const IN_HAND = 'set-in-hand';
// What the page tells its parts when the set in hand changes; another tab's change is told too.
const CHANGED = 'desk-set';
const OURS_FIRST = 'first-swaps';

/** @returns {OwnSet[]} in order of their names */
export function ownSets() {
  return shelves(SHELF).map((name) => ({file: name.slice(SHELF.length), text: recall(name, '')}))
    .filter(({text}) => text)
    .sort((one, other) => one.file.localeCompare(other.file));
}

/**
 * @param {OwnSet} set
 * @returns {boolean} whether this device keeps it
 */
export function keepOwnSet({file, text}) {
  const kept = remember(SHELF + file, text);
  tell();
  return kept;
}

/** @param {string} file */
export function forgetOwnSet(file) {
  forget(SHELF + file);
  tell();
}

/** @returns {Set} what the desk's jobs are about */
export function inHand() {
  const {set, file} = recall(IN_HAND, /** @type {{set?: string, file?: string}} */ ({}));
  const text = file ? recall(SHELF + file, '') : '';
  return file && text ? {file, text} : {set: set || OURS_FIRST};
}

/**
 * @param {{set: string} | {file: string}} wanted
 */
export function takeInHand(wanted) {
  remember(IN_HAND, 'file' in wanted ? {file: wanted.file} : {set: wanted.set});
  tell();
}

/**
 * What to ask Python about the set in hand.
 * @returns {Record<string, string>}
 */
export function setFields() {
  return {...inHand()};
}

/**
 * @param {() => void} act when another set is in hand, or the one in hand has changed, here or in another tab
 * @param {AbortSignal} signal
 */
export function onSet(act, signal) {
  addEventListener(CHANGED, act, {signal});
}

function tell() {
  dispatchEvent(new Event(CHANGED));
}

addEventListener('storage', ({key}) => {
  if (key === null || key.includes(IN_HAND) || key.includes(SHELF)) tell();
});
