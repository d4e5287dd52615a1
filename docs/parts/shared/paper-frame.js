// Pages to print, in a frame of their own: neither the site's style nor its menus reach them.

/**
 * Show some pages in a frame, and give the frame.
 * @param {HTMLElement} place what is in it goes
 * @param {string} title what a screen reader calls the frame
 * @param {string} html Python's, built as a tree
 * @param {string} style
 * @returns {HTMLIFrameElement}
 */
export function showPages(place, title, html, style) {
  const frame = document.createElement('iframe');
  frame.title = title;
  frame.className = 'dw-pages';
  place.replaceChildren(frame);
  const inside = /** @type {Window & typeof globalThis} */ (frame.contentWindow);
  const pages = document.createElement('main');
  pages.innerHTML = html;
  inside.document.documentElement.lang = 'en';
  inside.document.title = title;
  inside.document.body.append(inside.document.adoptNode(pages));
  // The site's policy refuses a style element; a sheet made by a script may be adopted.
  const sheet = new inside.CSSStyleSheet();
  sheet.replaceSync(style);
  inside.document.adoptedStyleSheets = [sheet];
  return frame;
}
