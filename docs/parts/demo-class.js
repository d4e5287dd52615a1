// <demo-class>: an invented class in one press, and its files to take.

import {download} from './shared/download.js';
import {LivePart, fill} from './shared/live-part.js';

class DemoClass extends LivePart {
  begin() {
    /** @type {Record<string, Uint8Array>} */
    this.made = {};
    this.form = /** @type {HTMLFormElement} */ (this.querySelector('form'));
    this.form.addEventListener('submit', (event) => {
      event.preventDefault();
      this.#make();
    });
    this.output.addEventListener('click', ({target}) => {
      const {save} = /** @type {HTMLElement} */ (target).dataset;
      if (save) download(this.made[save], /** @type {string} */ (save.split('/').at(-1)), 'application/octet-stream');
    });
  }

  async #make() {
    this.say('The class is being made.');
    const answer = await this.ask({}, {files: [], heard: ({words}) => this.say(`${words} …`)});
    if (!answer) return;
    this.made = answer.made;
    this.output.hidden = false;
    fill(this.output, answer.html);
  }
}

customElements.define('demo-class', DemoClass);
