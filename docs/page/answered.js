// In milliseconds. Python that starts first takes longer than what is not asked for may wait.
const LONGEST = 300;

/**
 * When no part waits for Python any more: what would hold an answer up goes after it.
 * @returns {Promise<unknown>}
 */
export function answered() {
  return Promise.race([noneWaits(), new Promise((late) => setTimeout(late, LONGEST))]);
}

/** @returns {Promise<void>} */
function noneWaits() {
  return new Promise((resolve) => {
    const look = () => {
      if (document.querySelector('[aria-busy="true"]')) return;
      looking.disconnect();
      resolve();
    };
    const looking = new MutationObserver(look);
    looking.observe(document.body, {subtree: true, attributeFilter: ['aria-busy']});
    look();
  });
}
