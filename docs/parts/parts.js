// Gives the page's custom elements their names; each one's definition stands in a file of its own.

import {AcidityAndFeel} from './acidity-and-feel.js';
import {BalanceFormula} from './balance-formula.js';
import {BenchSheet} from './bench-sheet.js';
import {reachThemeByKeyboard} from './by-keyboard.js';
import {DoughTemperature} from './dough-temperature.js';
import {DrySample} from './dry-sample.js';
import {IngredientTable} from './ingredient-table.js';
import {LiquidSwap} from './liquid-swap.js';
import {OwnIngredients} from './own-ingredients.js';
import {tellAddress} from './page-address.js';
import {offerWordsSpeltAlike} from './search-alike.js';
import {PackReader} from './pack-reader.js';
import {ProblemSet} from './problem-set.js';
import {PythonCell} from './python-cell.js';
import {SetWriter} from './set-writer.js';
import {ScaleFormula} from './scale-formula.js';
import {SideBySide} from './side-by-side.js';
import {StudyPlan} from './study-plan.js';

const PARTS = {
  'acidity-and-feel': AcidityAndFeel,
  'balance-formula': BalanceFormula,
  'bench-sheet': BenchSheet,
  'dough-temperature': DoughTemperature,
  'dry-sample': DrySample,
  'ingredient-table': IngredientTable,
  'liquid-swap': LiquidSwap,
  'own-ingredients': OwnIngredients,
  'pack-reader': PackReader,
  'problem-set': ProblemSet,
  'python-cell': PythonCell,
  'set-writer': SetWriter,
  'scale-formula': ScaleFormula,
  'side-by-side': SideBySide,
  'study-plan': StudyPlan,
};

for (const [name, part] of Object.entries(PARTS)) customElements.define(name, part);
tellAddress();
reachThemeByKeyboard();

// Modules load from a server alone: this page is no mere file.
document.querySelector('.dw-as-files')?.remove();
offerWordsSpeltAlike();
