// In the head of a lesson's page: the step to go on with is alone from the first paint, so that nothing
// jumps when the lesson wakes (course/lesson-steps.js), which then takes over.

(() => {
  const script = /** @type {HTMLScriptElement} */ (document.currentScript);
  if (!('lesson' in script.dataset)) return;
  // From a disk no module loads: the lesson is read as a whole.
  if (location.protocol === 'file:' || !('adoptedStyleSheets' in document)) return;
  const page = document.documentElement;
  const sheet = new CSSStyleSheet();
  sheet.replaceSync(`@media screen { lesson-steps > .dw-step:not(:nth-of-type(${kept()})) { display: none; } }`);
  document.adoptedStyleSheets.push(sheet);
  page.classList.add('dw-one-step');
  const done = () => {
    document.adoptedStyleSheets = document.adoptedStyleSheets.filter((each) => each !== sheet);
  };
  document.addEventListener('dw-lesson-awake', done, {once: true});
  // Where the lesson never wakes, all of it is there to be read.
  const giveUp = () => setTimeout(() => {
    if (customElements.get('lesson-steps')) return;
    done();
    page.classList.remove('dw-one-step');
  }, 5000);
  if (document.prerendering) document.addEventListener('prerenderingchange', giveUp, {once: true});
  else addEventListener('load', giveUp);

  /** @returns {number} the step that this device keeps as the last one seen */
  function kept() {
    try {
      const {step} = JSON.parse(localStorage.getItem(`doughwater/lesson/${script.dataset.lesson}`) ?? '{}');
      return Number.isInteger(step) && step > 0 ? step : 1;
    } catch {
      return 1;
    }
  }
})();
