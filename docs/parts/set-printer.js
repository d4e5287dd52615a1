// <set-printer>: worksheets and key of the set in hand, shown and printed, or saved as files.

import {download} from './shared/download.js';
import {onSet, setFields} from './shared/desk.js';
import {LivePart} from './shared/live-part.js';
import {showPages} from './shared/paper-frame.js';

class SetPrinter extends LivePart {
  get refusal() {
    return 'Not printed yet.';
  }

  begin() {
    this.form = /** @type {HTMLFormElement} */ (this.querySelector('form'));
    this.form.addEventListener('submit', (event) => {
      event.preventDefault();
      const pressed = /** @type {HTMLElement | null} */ (event.submitter);
      this.#act(pressed?.dataset.action ?? 'worksheets');
    });
    // Pages of another set are not to be printed by mistake.
    onSet(() => this.output.replaceChildren(), this.gone.signal);
  }

  /** @param {string} action */
  async #act(action) {
    const typed = /** @type {Record<string, string>} */ (Object.fromEntries(new FormData(this.form)));
    const along = action === 'files' ? {files: []} : {};
    const answer = await this.ask({...typed, ...setFields(), action}, along);
    if (!answer) return;
    if (answer.made) this.#save(answer.made);
    else showPages(this.output, action === 'key' ? 'The key' : 'The worksheets', answer.html, answer.style).contentWindow?.print();
  }

  /** @param {Record<string, Uint8Array>} made */
  #save(made) {
    for (const [name, bytes] of Object.entries(made)) download(bytes, name, 'application/octet-stream');
  }
}

customElements.define('set-printer', SetPrinter);
