// Whether something is pressed in the page. A link that is replaced under a finger hears no click.

// Where the end of a press is never told, what waits for it goes on.
const LONGEST_PRESS = 2 * 1000;

let released = Promise.resolve();

addEventListener('pointerdown', () => {
  released = new Promise((resolve) => {
    // The click comes after the press has ended, before a timer.
    for (const end of ['pointerup', 'pointercancel']) addEventListener(end, () => setTimeout(resolve), {once: true, capture: true});
    setTimeout(resolve, LONGEST_PRESS);
  });
}, true);

/** @returns {Promise<void>} what waits until nothing is pressed any more */
export function letGo() {
  return released;
}
