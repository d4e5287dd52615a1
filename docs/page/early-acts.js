// In the head of each page, before its parts' modules: on a slow device a reader types, chooses and presses before
// the script that would hear it is there. Each part is told as soon as it wakes, and no form goes off by itself.

(() => {
  // Whoever sees a page that has loaded, with parts that still sleep, is told after a while (style.css).
  const tell = () => document.documentElement.classList.add('dw-asleep');
  const watch = () => (document.readyState === 'complete' ? tell() : addEventListener('load', tell));
  if (document.prerendering) document.addEventListener('prerenderingchange', watch, {once: true});
  else watch();

  // From a disk no module loads: nothing wakes.
  if (location.protocol === 'file:') return;

  /** What was done in a part: its controls with what they hold, what was pressed, what was unfolded. */
  class Acts {
    /** @type {Map<HTMLInputElement, {value: string, checked: boolean, changed: boolean}>} */
    written = new Map();
    /** @type {Set<HTMLButtonElement | HTMLFormElement>} */
    pressed = new Set();
    /** @type {Set<HTMLDetailsElement>} */
    unfolded = new Set();

    /** The part may have put into its controls what the device keeps: what the reader does counts more. */
    tell() {
      for (const [control, {value, checked, changed}] of this.written) {
        if (isTaken(control)) continue;
        if (control.type !== 'file' && control.value !== value) control.value = value;
        control.checked = checked;
        for (const type of changed ? ['input', 'change'] : ['input']) control.dispatchEvent(new Event(type, {bubbles: true}));
      }
      for (const fold of this.unfolded) if (fold.open) fold.dispatchEvent(new Event('toggle'));
      for (const each of this.pressed) {
        if (isTaken(each)) continue;
        if (each instanceof HTMLFormElement) each.requestSubmit();
        else each.click();
      }
    }
  }

  /** @param {Element} each Whether the part has something else in its place, or soon will. */
  const isTaken = (each) => !each.isConnected || Boolean(each.closest('[inert]'));

  /** @type {Map<Element, Acts>} */
  const parts = new Map();

  /**
   * @param {Event} event
   * @returns {Acts | null} what was done in the part that the event is in, where that part still sleeps
   */
  function actsOf({target}) {
    let part = /** @type {Element | null} */ (target);
    while (part && !part.localName.includes('-')) part = part.parentElement;
    if (!part || part.matches(':defined')) return null;
    const known = parts.get(part);
    if (known) return known;
    const acts = new Acts();
    parts.set(part, acts);
    customElements.whenDefined(part.localName).then(() => acts.tell());
    return acts;
  }

  /** @param {Event} event */
  function written(event) {
    const control = /** @type {HTMLInputElement} */ (event.target);
    const {value, checked} = control;
    actsOf(event)?.written.set(control, {value, checked, changed: event.type === 'change'});
  }

  addEventListener('input', written, true);
  addEventListener('change', written, true);
  addEventListener('click', (event) => {
    const pressed = /** @type {Element} */ (event.target).closest('button, summary');
    if (pressed?.parentElement instanceof HTMLDetailsElement) actsOf(event)?.unfolded.add(pressed.parentElement);
    const acts = pressed instanceof HTMLButtonElement ? actsOf(event) : null;
    if (!acts) return;
    event.preventDefault();
    acts.pressed.add(/** @type {HTMLButtonElement} */ (pressed));
  }, true);
  // Of a form without a button, sent with the Enter key.
  addEventListener('submit', (event) => {
    const acts = actsOf(event);
    if (!acts) return;
    event.preventDefault();
    acts.pressed.add(/** @type {HTMLFormElement} */ (event.target));
  }, true);
})();
