// An answer written over the last one: only what differs. The rest need not be parsed, styled and laid out again, and
// what a reader unfolded, scrolled, selected or typed there stays.

import {write, writtenIn} from './live-part.js';

// What has a life of its own is left alone, or made anew.
const ALIVE = 'form, input, select, textarea';

/**
 * What Python wrote in a place last, as it came: the page's scripts may have changed since what is seen.
 * @type {WeakMap<Element, {html: string, tree: DocumentFragment}>}
 */
const last = new WeakMap();

/**
 * As `fill`, for a place that nothing else fills.
 * @param {HTMLElement} place
 * @param {string} html
 */
export function refill(place, html) {
  const before = last.get(place);
  if (before?.html === html) return;
  const fresh = document.createElement('template');
  fresh.innerHTML = html;
  last.set(place, {html, tree: fresh.content});
  write(place, () => {
    if (before) followInside(place, before.tree, fresh.content);
    else place.replaceChildren(copy(fresh.content));
  }, writtenIn(place));
}

/**
 * @param {Node} node
 * @returns {Node} the same in the page
 */
function copy(node) {
  return document.importNode(node, true);
}

/**
 * Bring what is inside a node into step. What is alike at the start and at the end stays; what is between comes anew.
 * @param {ParentNode & Node} seen
 * @param {Node} old as it was written
 * @param {Node} now
 */
function followInside(seen, old, now) {
  const [there, were, are] = [seen, old, now].map(({childNodes}) => [...childNodes]);
  if (there.length !== were.length || there.some(({nodeName}, at) => nodeName !== were[at].nodeName)) {
    // A script has put something else there.
    seen.replaceChildren(...are.map(copy));
    return;
  }
  let start = 0;
  while (start < Math.min(were.length, are.length) && isAlike(were[start], are[start])) start++;
  let end = 0;
  while (end < Math.min(were.length, are.length) - start && isAlike(were[were.length - 1 - end], are[are.length - 1 - end])) end++;
  for (let at = 0; at < start; at++) follow(there[at], were[at], are[at]);
  for (let at = 1; at <= end; at++) follow(there[there.length - at], were[were.length - at], are[are.length - at]);
  const after = there[there.length - end] ?? null;
  for (const gone of there.slice(start, there.length - end)) gone.remove();
  for (const come of are.slice(start, are.length - end)) seen.insertBefore(copy(come), after);
}

/**
 * @param {Node} old
 * @param {Node} now
 */
function isAlike(old, now) {
  if (!(old instanceof Element && now instanceof Element)) return old.nodeType === now.nodeType;
  return old.localName === now.localName && old.getAttribute('class') === now.getAttribute('class');
}

/**
 * @param {ChildNode} seen
 * @param {Node} old
 * @param {Node} now
 */
function follow(seen, old, now) {
  if (old.isEqualNode(now)) return;
  if (!(seen instanceof Element && old instanceof Element && now instanceof Element)) {
    seen.nodeValue = now.nodeValue;
  } else if (now.matches(ALIVE) || now.localName.includes('-')) {
    seen.replaceWith(copy(now));
  } else {
    followAttributes(seen, old, now);
    followInside(seen, old, now);
  }
}

/**
 * @param {Element} seen
 * @param {Element} old
 * @param {Element} now
 */
function followAttributes(seen, old, now) {
  for (const {name, value} of now.attributes) if (old.getAttribute(name) !== value) seen.setAttribute(name, value);
  for (const {name} of old.attributes) if (!now.hasAttribute(name)) seen.removeAttribute(name);
}
