// What every page runs: its interactive parts, and what the theme lacks.

import {reachTables, reachThemeByKeyboard} from './by-keyboard.js';
import {runTheme} from './late-theme.js';
import {learnMeanwhile} from './meanwhile.js';
import {tellNextPage} from './next-page.js';
import {openFolds} from './open-fold.js';
import {tellAddress} from './page-address.js';
import {quietMoment} from './quiet-moment.js';
import {searchWithoutKeys} from './search-input.js';
import {offerWhatIsNear} from './search-nothing.js';
import {answerSwaps} from './search-swap.js';
import {wake} from './wake.js';

wake(document);
tellAddress();
openFolds();
reachThemeByKeyboard();
tellNextPage();
learnMeanwhile();

// Modules load from a server alone: this page is no mere file.
document.querySelector('.dw-as-files')?.remove();
offerWhatIsNear();
searchWithoutKeys();
answerSwaps();
runTheme().then(reachTables);
// The version is this page's own, so it comes with the page, not after it. Without either the site works as before.
Promise.all([import('../offline/version.js'), quietMoment()]).then(() => import('../offline/offline.js')).catch(() => {});
