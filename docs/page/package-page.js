// What the page of a package runs (a set in a school's system): its parts, in the colours that the reader's device asks for.

import {wake} from './wake.js';

const dark = matchMedia('(prefers-color-scheme: dark)');
const put = () => document.body.setAttribute('data-md-color-scheme', dark.matches ? 'slate' : 'default');
dark.addEventListener('change', put);
put();
wake(document);
// Modules run, so nothing shuts the page in.
document.querySelector('[data-shut-in]')?.remove();
