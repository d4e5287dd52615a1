// The teacher's own sets, as this device keeps them, and the set in hand. Each set is kept under its own
// name, so that two tabs lose nothing of each other's.

import {counted} from '../../page/counted.js';
import {forget, recall, recallText, remember, rememberText, shelves} from './store.js';

/** A set of one's own: its file's name, and its text. @typedef {{file: string, text: string}} OwnSet */
/** One of ours by its key, or one's own. @typedef {{set: string} | OwnSet} Set */

const SHELF = 'set/';
const IN_HAND = 'set-in-hand';
/** The class list, and marks changed by hand: kept only where the teacher says so. */
export const CLASS_LIST = 'class/list';
export const CHANGES = 'class/changes/';
// What begins so is the desk's, and goes into its file.
const KEPT = ['class/', 'desk/'];
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
 * The title in a set's text, read without Python: plain, or in quotes. Empty where it is written in another way.
 * @param {string} text
 */
export function titleOf(text) {
  const written = /^title:[ \t]+(?:"([^"\\\n]+)"|'([^'\n]+)'|([^\s"'|>{[][^\n]*?))[ \t]*(?:[ \t]#[^\n]*)?\r?$/m.exec(text);
  return written ? written[1] ?? written[2] ?? written[3] : '';
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

/**
 * A file's name that takes no other set's place on this device.
 * @param {string} file
 * @param {string} text
 */
export function freeName(file, text) {
  const sets = ownSets();
  const stem = file.replace(/\.[^.]*$/, '');
  let name = file;
  for (let n = 2; sets.some((set) => set.file === name && set.text !== text); n++) name = `${stem}-${n}.yml`;
  return name;
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

/** @returns {Record<string, string>} what else the desk keeps, each as its text: the class, where the teacher wants it */
export function settings() {
  return Object.fromEntries(KEPT.flatMap(shelves).map((name) => [name, recallText(name)]));
}

/** @param {Record<string, string>} kept as `settings` gave it, on this device or on another */
export function takeSettings(kept) {
  for (const [name, text] of Object.entries(kept)) if (KEPT.some((start) => name.startsWith(start))) rememberText(name, text);
  tell();
}

/** @returns {string[]} what this device keeps of the desk, in words */
export function keptOnDesk() {
  const sets = ownSets().map(({file}) => file);
  const names = recall(CLASS_LIST, '').split('\n').filter((line) => line.trim()).length;
  const changed = shelves(CHANGES).length;
  return [
    ...sets,
    ...(names ? [`a class list of ${counted(names, 'line')}`] : []),
    ...(changed ? ['marks that you changed by hand'] : []),
  ];
}

/** Forget the sets, the class and all else that the desk keeps here. */
export function forgetDesk() {
  // Under the same start is what a student answered to a set of ours, which is not the desk's.
  for (const name of [...ownSets().map(({file}) => SHELF + file), ...KEPT.flatMap(shelves), IN_HAND, 'set-text', 'set-file', 'set-unsent']) forget(name);
  tell();
}

function tell() {
  dispatchEvent(new Event(CHANGED));
}

addEventListener('storage', ({key}) => {
  if (key === null || key.includes(IN_HAND) || key.includes(SHELF)) tell();
});
