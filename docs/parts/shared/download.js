// Save what the page made as a file on the reader's device.

/**
 * @param {string | Uint8Array} content
 * @param {string} filename
 * @param {string} [type]
 */
export function download(content, filename, type = 'application/json') {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(new Blob([/** @type {BlobPart} */ (content)], {type}));
  link.download = filename;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
}
