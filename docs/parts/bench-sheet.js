// <bench-sheet>: a sheet for a demonstration, written at build time. The page adds printing it alone.

class BenchSheet extends HTMLElement {
  connectedCallback() {
    this.querySelector('button')?.addEventListener('click', () => this.#printAlone());
  }

  #printAlone() {
    this.classList.add('dw-alone');
    addEventListener('afterprint', () => this.classList.remove('dw-alone'), {once: true});
    print();
  }
}

customElements.define('bench-sheet', BenchSheet);
