// A student's work as text for a school's system: packed, cut to what the system has room for, and read back.

import {pairs} from './store.js';

/** @typedef {Record<string, Record<string, string>>} Answers by problem and step */
/** @typedef {{answers: Answers, marked: Answers, tries: Record<string, number>, hints: Record<string, Record<string, number>>}} Work */
/** @typedef {import('./school-lesson.js').Lesson} Lesson */
/** Work with whose it is, when it was written (milliseconds since 1970), and the lesson around the set. @typedef {Work & {student: string, at: number, lesson?: Lesson}} Kept */
/** `tries` is whether earlier tries were left out, `lesson` whether the lesson's answers were, `left` the problems of which an answer was. @typedef {{text: string, tries: boolean, lesson: boolean, left: string[]}} Fitted */

// The letters that say how the rest is written: packed, or as it is.
const PACKED = 'DW1.';
const PLAIN = 'DW0.';
// The mark of a problem whose answers are as they were last marked.
const SAME = 1;

/**
 * Work as text of at most `room` characters. What is newest stays. Left out is, in this order: what a student wrote
 * before and has changed since; then what was answered in the lesson, though not that it was; then the longest answers,
 * of other problems first than of `newest`.
 * @param {Kept} kept
 * @param {number} room
 * @param {string} newest the problem that was worked at last
 * @returns {Promise<Fitted>}
 */
export async function fitted(kept, room, newest) {
  const whole = await packed(kept);
  if (whole.length <= room) return {text: whole, tries: false, lesson: false, left: []};
  let newer = {...kept, marked: Object.fromEntries(Object.entries(kept.marked).filter(([id]) => isSame(kept, id)))};
  let [text, answers] = [await packed(newer), kept.answers];
  const lesson = Boolean(kept.lesson) && text.length > room;
  if (kept.lesson && lesson) {
    newer = {...newer, lesson: onlyDone(kept.lesson)};
    text = await packed(newer);
  }
  /** @type {string[]} */
  const left = [];
  for (const [id, step] of longestFirst(kept.answers, newest)) {
    if (text.length <= room) break;
    const {[step]: _, ...rest} = answers[id];
    answers = {...answers, [id]: rest};
    left.push(id);
    text = await packed({...newer, marked: sameAs(newer.marked, answers), answers});
  }
  return {text, lesson, tries: Object.keys(newer.marked).length < Object.keys(kept.marked).length, left: [...new Set(left)]};
}

/**
 * @param {Lesson} lesson
 * @returns {Lesson} which of its questions were answered, and not what
 */
function onlyDone({when, step, asked}) {
  const none = {answers: {}, marked: {}, tries: 0, verdicts: {}};
  return {when, step, asked: Object.fromEntries(Object.entries(asked).map(([name, {done}]) => [name, {...none, done}]))};
}

/**
 * @param {Answers} marked
 * @param {Answers} answers
 * @returns {Answers} the same problems, as they are answered now
 */
function sameAs(marked, answers) {
  return Object.fromEntries(Object.keys(marked).map((id) => [id, answers[id] ?? {}]));
}

/**
 * @param {Answers} answers
 * @param {string} newest
 * @returns {[problem: string, step: string][]}
 */
function longestFirst(answers, newest) {
  const all = Object.entries(answers).flatMap(([id, steps]) => Object.entries(steps).map(([step, text]) => ({id, step, size: text.length})));
  all.sort((a, b) => Number(a.id === newest) - Number(b.id === newest) || b.size - a.size);
  return all.map(({id, step}) => [id, step]);
}

/**
 * @param {Work} work
 * @param {string} id
 */
function isSame({marked, answers}, id) {
  const [one, other] = [marked[id], answers[id] ?? {}];
  return [...new Set([...Object.keys(one), ...Object.keys(other)])].every((step) => (one[step] ?? '') === (other[step] ?? ''));
}

/** @param {Kept} kept */
function written(kept) {
  const marked = Object.fromEntries(Object.entries(kept.marked).map(([id, answers]) => [id, isSame(kept, id) ? SAME : answers]));
  return JSON.stringify({...kept, marked});
}

/**
 * The same at once, for a page that goes and waits for nothing: longer, in ASCII as `fitted` gives it.
 * @param {Kept} kept
 * @returns {string}
 */
export function plain(kept) {
  return PLAIN + written(kept).replace(/[^ -~]/g, (sign) => `\\u${sign.charCodeAt(0).toString(16).padStart(4, '0')}`);
}

/** @param {Kept} kept */
async function packed(kept) {
  const bytes = new Uint8Array(await through(new Blob([written(kept)]), new CompressionStream('deflate-raw')));
  return PACKED + btoa(Array.from(bytes, (byte) => String.fromCharCode(byte)).join(''));
}

/**
 * Work from what `fitted` or `plain` wrote; null where there is none, or none that can be read.
 * @param {string} text
 * @returns {Promise<Kept | null>}
 */
export async function unpacked(text) {
  const rest = text.slice(PACKED.length);
  try {
    if (text.startsWith(PLAIN)) return read(JSON.parse(rest));
    if (!text.startsWith(PACKED)) return null;
    const bytes = Uint8Array.from(atob(rest), (letter) => letter.charCodeAt(0));
    const opened = await through(new Blob([bytes]), new DecompressionStream('deflate-raw'));
    return read(JSON.parse(new TextDecoder().decode(opened)));
  } catch {
    return null;
  }
}

/**
 * @param {any} found
 * @returns {Kept}
 */
function read(found) {
  const answers = pairs(found.answers, 'object');
  const marked = Object.fromEntries(Object.entries(found.marked ?? {}).map(([id, one]) => [id, one === SAME ? {...answers[id]} : one]));
  const {when, step, asked} = found.lesson ?? {};
  return {
    student: String(found.student ?? ''), at: Number(found.at) || 0, answers, marked: pairs(marked, 'object'),
    tries: pairs(found.tries, 'number'), hints: pairs(found.hints, 'object'),
    ...(found.lesson && {lesson: {when: Number(when) || 0, step: String(step ?? ''), asked: pairs(asked, 'object')}}),
  };
}

/**
 * @param {Blob} blob
 * @param {CompressionStream | DecompressionStream} stream
 */
function through(blob, stream) {
  return new Response(blob.stream().pipeThrough(stream)).arrayBuffer();
}

/**
 * Work from two places as one: where both have something, the newer one's counts.
 * @param {Kept} one
 * @param {Kept} other
 * @returns {Kept}
 */
export function merged(one, other) {
  const [older, newer] = one.at <= other.at ? [one, other] : [other, one];
  const both = (/** @type {'answers' | 'marked' | 'hints'} */ part) => {
    const ids = Object.keys({...older[part], ...newer[part]});
    return Object.fromEntries(ids.map((id) => [id, {...older[part][id], ...newer[part][id]}]));
  };
  return {
    student: newer.student || older.student, at: newer.at, tries: {...older.tries, ...newer.tries},
    answers: /** @type {Answers} */ (both('answers')), marked: /** @type {Answers} */ ({...older.marked, ...newer.marked}),
    hints: /** @type {Work['hints']} */ (both('hints')),
  };
}
