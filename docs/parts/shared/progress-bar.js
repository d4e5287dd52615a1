// How far a long task is, in a bar and in words, with a button that stops it.

import {button} from './form-part.js';

export class ProgressBar {
  /**
   * @param {HTMLElement} place it is put after
   * @param {() => void} stop
   */
  constructor(place, stop) {
    this.box = document.createElement('div');
    this.box.className = 'dw-progress';
    this.box.hidden = true;
    this.bar = document.createElement('progress');
    this.words = document.createElement('span');
    this.bar.setAttribute('aria-label', 'How far it is');
    this.box.append(this.bar, this.words, button('Stop', stop));
    place.after(this.box);
  }

  /** @param {import('../../engine/engine.js').Progress} how */
  show({done, whole, words}) {
    this.box.hidden = false;
    if (whole) {
      this.bar.max = whole;
      this.bar.value = Math.min(done, whole);
    } else {
      this.bar.removeAttribute('value');
    }
    this.words.textContent = words;
  }

  hide() {
    this.box.hidden = true;
  }
}
