/** Tells the print style this page's address, for the foot of the sheet: a style sheet cannot read it. */
export function tellAddress() {
  const address = location.protocol === 'file:' ? '' : location.origin + location.pathname;
  document.documentElement.style.setProperty('--dw-address', JSON.stringify(address));
}
