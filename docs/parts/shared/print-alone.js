/**
 * Print one part of the page and nothing else; the print style knows the class.
 * @param {Element} part
 */
export function printAlone(part) {
  part.classList.add('dw-alone');
  addEventListener('afterprint', () => part.classList.remove('dw-alone'), {once: true});
  print();
}
