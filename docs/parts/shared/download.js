// Save a text that the page made as a file on the reader's device.

/**
 * @param {string} text
 * @param {string} filename
 * @param {string} [type]
 */
export function download(text, filename, type = 'application/json') {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(new Blob([text], {type}));
  link.download = filename;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
}
