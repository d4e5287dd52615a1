// <lesson-list>: beside each lesson how far the reader of this device is in it, and the student in its set.

import {StandingList} from '../parts/shared/standing-list.js';
import {lessonsBegun} from '../parts/shared/lesson-place.js';

class LessonList extends StandingList {
  connectedCallback() {
    super.connectedCallback();
    const begun = lessonsBegun();
    for (const place of this.querySelectorAll('[data-lesson]')) {
      const one = begun[/** @type {HTMLElement} */ (place).dataset.lesson ?? ''];
      if (one) place.textContent = one.step < one.of ? `You are at step ${one.step} of ${one.of}. ` : '✓ Read to its end. ';
    }
  }
}

customElements.define('lesson-list', LessonList);
