/** @returns {string} what the address names in its page, after the #; nothing where that cannot be read */
export function named() {
  try {
    return decodeURIComponent(location.hash.slice(1));
  } catch {
    return '';
  }
}
