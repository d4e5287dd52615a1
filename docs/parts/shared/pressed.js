// Whether something is pressed in the page, and what a reader did since. A link that is replaced under a finger hears
// no click, and an answer that comes late finds the reader elsewhere.

// Where the end of a press is never told, what waits for it goes on.
const LONGEST_PRESS = 2 * 1000;
// What the space bar presses when it is let go.
const PRESSED_BY_SPACE = 'button, summary, [type="checkbox"], [type="radio"]';

let released = Promise.resolve();
let acts = 0;

/** @param {string[]} ends the events that end the press */
function press(ends) {
  released = new Promise((resolve) => {
    // The click comes after the press has ended, before a timer.
    for (const end of ends) addEventListener(end, () => setTimeout(resolve), {once: true, capture: true});
    setTimeout(resolve, LONGEST_PRESS);
  });
}

addEventListener('pointerdown', () => press(['pointerup', 'pointercancel']), true);
addEventListener('keydown', ({key, target}) => {
  if (key === ' ' && /** @type {Element} */ (target).matches(PRESSED_BY_SPACE)) press(['keyup']);
}, true);

// What is put into a page by a script is no act of its reader.
const count = (/** @type {Event} */ {isTrusted}) => {
  if (isTrusted) acts += 1;
};
for (const type of ['pointerdown', 'keydown', 'input', 'wheel', 'touchmove']) addEventListener(type, count, {capture: true, passive: true});

/** @returns {Promise<void>} what waits until nothing is pressed any more */
export function letGo() {
  return released;
}

/**
 * Before a question: an answer may move the page, or take the focus, only where the reader did nothing meanwhile.
 * @returns {() => boolean} whether nothing was done since
 */
export function stillness() {
  const then = acts;
  return () => acts === then;
}
