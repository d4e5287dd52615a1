// A lesson on the board (docs/build/boards.py): one screen at a time, each answer covered until the next press.
// A plain script, so that it also runs from a disk. Without it, all screens are there, one below another.

(() => {
  const screens = /** @type {HTMLElement[]} */ ([...document.querySelectorAll('.screen')]);
  const tools = /** @type {HTMLElement} */ (document.querySelector('footer > div'));
  const choice = /** @type {HTMLSelectElement} */ (tools.querySelector('select'));
  // What a clicker sends is Page Up and Page Down.
  const KEYS = {ArrowRight: 1, ArrowDown: 1, PageDown: 1, ' ': 1, ArrowLeft: -1, ArrowUp: -1, PageUp: -1, Home: -Infinity, End: Infinity};
  /** @type {Record<string, () => void>} */
  const DOES = {
    next: () => go(1),
    back: () => go(-1),
    full: () => document.fullscreenElement ? document.exitFullscreen() : document.documentElement.requestFullscreen(),
    dark: () => paint(document.body.dataset.mdColorScheme === 'slate' ? 'default' : 'slate'),
  };
  let at = 0;

  paint(kept() ?? (matchMedia('(prefers-color-scheme: dark)').matches ? 'slate' : 'default'));
  document.body.classList.add('awake');
  tools.hidden = false;
  show(Number(/^#screen-(\d+)$/.exec(location.hash)?.[1] ?? 1) - 1);

  tools.addEventListener('click', ({target}) => DOES[/** @type {HTMLElement} */ (target).dataset.does]?.());
  choice.addEventListener('change', () => show(Number(choice.value) - 1));
  addEventListener('hashchange', () => show(Number(location.hash.slice('#screen-'.length)) - 1));
  addEventListener('keydown', pressed);

  /** @param {KeyboardEvent} event */
  function pressed(event) {
    const step = KEYS[/** @type {keyof typeof KEYS} */ (event.key)];
    if (!step || event.ctrlKey || event.altKey || event.metaKey || event.shiftKey || isTheirs(event)) return;
    event.preventDefault();
    go(step);
  }

  /**
   * Whether a key belongs to what has the focus, or scrolls a screen that is larger than the window.
   * @param {KeyboardEvent} event
   */
  function isTheirs({key, target}) {
    const focus = /** @type {HTMLElement} */ (target);
    if (focus === choice) return !key.startsWith('Page');
    if (key === ' ' && focus.matches('button, summary, a')) return true;
    return /^(Arrow(Up|Down)| )$/.test(key) && document.documentElement.scrollHeight > innerHeight + 1;
  }

  /**
   * Uncover the answer or go on; going back covers it first.
   * @param {number} step
   */
  function go(step) {
    const answer = screens[at].querySelector('details');
    if (step === 1 && answer && !answer.open) answer.open = true;
    else if (step === -1 && answer?.open) answer.open = false;
    else show(at + step);
  }

  /** @param {number} wanted */
  function show(wanted) {
    at = Math.max(0, Math.min(screens.length - 1, wanted || 0));
    screens.forEach((screen, number) => screen.classList.toggle('shown', number === at));
    choice.value = String(at + 1);
    document.body.style.setProperty('--told', String((at + 1) / screens.length));
    history.replaceState(null, '', `#${screens[at].id}`);
    scrollTo(0, 0);
    if (document.activeElement !== choice) screens[at].focus({preventScroll: true});
  }

  /** @param {string} scheme */
  function paint(scheme) {
    document.body.dataset.mdColorScheme = scheme;
  }

  /** @returns {string | undefined} the scheme that this device keeps for the site */
  function kept() {
    try {
      const site = new URL('..', location.href).pathname;
      return JSON.parse(localStorage.getItem(`${site}.__palette`) ?? '{}').color?.scheme;
    } catch {
      return undefined;
    }
  }
})();
