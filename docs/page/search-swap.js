// “Kefir instead of milk”, “1 cup buttermilk”: the search's first answer is the tool, filled in.

const SITE = new URL('../', import.meta.url);

// What asks for one liquid in another's place; and in which of these orders the old one comes first.
const INSTEAD = /\b(?:instead|in place|in lieu|rather than|for|replac\w*|substitut\w*|sub|swap\w*|exchang\w*|switch|chang\w*|convert)\b/;
const OLD_FIRST =
  /\b(?:replac\w*|swap\w*|chang\w*|exchang\w*|switch|convert|substitut\w*|sub)\b.*\b(?:with|by|to|into)\b|\b(?:swap\w*|exchang\w*|switch)\b.*\bfor\b|\b(?:asks?|calls?)\b.*\bhave\b/;
const AMOUNTS =
  /(?<![\p{L}\p{N}.,])(?:(?:\d+[\s-]+)?\d+\s*\/\s*\d+|\d+(?:[.,]\d+)?\s?[½⅓⅔¼¾]?|[½⅓⅔¼¾])\s?(?:kg|g|grams?|oz|ounces?|lbs?|pounds?|ml|cl|dl|l|lit(?:re|er)s?|cups?|tbsp|tablespoons?|tsp|teaspoons?|fl oz|eggs?|yolks?)(?![\p{L}\p{N}])/giu;
// The most words in a name, and the longest question that is one.
const WORDS = 5;
const LONGEST = 120;

/** @typedef {{names: Record<string, string>, shown: Record<string, string>, spelt: Record<string, string>}} Liquids */
/** @typedef {{key: string, at: number}} Found */

/** Put the tool first in the search's list where a swap, or so much of a liquid, is asked for. */
export function answerSwaps() {
  const field = /** @type {HTMLInputElement | null} */ (document.querySelector('.md-search__input'));
  const list = document.querySelector('.md-search-result__list');
  if (!field || !list) return;
  /** @type {Liquids | null} */
  let liquids = null;
  const look = () => liquids && putFirst(list, question(field.value, liquids));
  field.addEventListener('focus', async () => {
    try {
      liquids ??= await (await fetch(new URL('../search/liquids.json', import.meta.url))).json();
    } catch {
      // Without the names, the search is what it was.
    }
    look();
  });
  field.addEventListener('keyup', look);
  // The theme writes its list anew for each question.
  new MutationObserver(look).observe(list, {childList: true});
}

/**
 * @param {Element} list
 * @param {{text: string, query: string, page: string} | null} asked
 */
function putFirst(list, asked) {
  const mine = list.querySelector('.dw-swap-hit');
  const address = asked && `${new URL(asked.page, SITE)}?${asked.query}`;
  if (mine && mine === list.firstElementChild && mine.querySelector('a')?.href === address) return;
  mine?.remove();
  if (asked && address) list.prepend(hit(asked.text, address));
}

/**
 * An entry as the theme writes its own.
 * @param {string} text
 * @param {string} address
 * @returns {HTMLElement}
 */
function hit(text, address) {
  const entry = document.createElement('li');
  entry.className = 'md-search-result__item dw-swap-hit';
  const link = document.createElement('a');
  link.className = 'md-search-result__link';
  link.href = address;
  const article = document.createElement('article');
  article.className = 'md-search-result__article md-typeset';
  // The return key goes to the entry that counts most.
  article.dataset.mdScore = '1e9';
  const title = document.createElement('h1');
  title.textContent = 'Swap a liquid';
  const told = document.createElement('p');
  told.textContent = `${text}: opens filled in.`;
  article.append(title, told);
  link.append(article);
  entry.append(link);
  return entry;
}

/**
 * What a question asks of the swap, in words and as its address; null where it asks nothing of it.
 * @param {string} typed
 * @param {Liquids} liquids
 * @returns {{text: string, query: string, page: string} | null}
 */
export function question(typed, liquids) {
  if (typed.length > LONGEST) return null;
  const asked = plain(typed, liquids.spelt);
  const [first, second] = named(asked, liquids.names);
  if (!first) return null;
  const much = amounts(typed, liquids, first, second);
  if (!second) {
    if (!much[0]) return null;
    return told({becomes: first.key, was: first.key === 'water' ? 'whole-milk' : 'water'}, liquids, {have: much[0]});
  }
  const sentence = asked.join(' ');
  if (!INSTEAD.test(sentence)) return null;
  if (OLD_FIRST.test(sentence)) return told({becomes: second.key, was: first.key}, liquids, {have: much[1], liquid: much[0]});
  return told({becomes: first.key, was: second.key}, liquids, {have: much[0], liquid: much[1]});
}

/**
 * The amounts of the first and the second liquid: each belongs to the next one named.
 * @param {string} typed
 * @param {Liquids} liquids
 * @param {Found} first
 * @param {Found | undefined} second
 * @returns {(string | undefined)[]}
 */
function amounts(typed, {spelt}, first, second) {
  /** @type {(string | undefined)[]} */
  const much = [];
  for (const found of typed.matchAll(AMOUNTS)) {
    const before = plain(typed.slice(0, found.index), spelt).length;
    much[second && before > first.at ? 1 : 0] ??= found[0].trim();
  }
  return much;
}

/**
 * An amount of each goes to the start page's one question; the rest to the tool for whole formulas.
 * @param {{becomes: string, was: string}} swap
 * @param {Liquids} liquids
 * @param {{have?: string, liquid?: string}} much
 */
function told({becomes, was}, {shown}, {have, liquid}) {
  const whole = /** @type {(text: string | undefined, name: string) => string} */ ((text, name) => (text ? (/egg|yolk/i.test(text) ? text : `${text} of ${name}`) : name));
  const query = new URLSearchParams({becomes, was, ...(liquid ? {liquid, have: have ?? ''} : have ? {part: have} : {})});
  const text = `${whole(have, shown[becomes])} in place of ${whole(liquid, shown[was])}`;
  return {text, query: String(query), page: liquid ? '' : 'swap/'};
}

/**
 * The words of a question in one spelling, as `calc.names` has it: small, without accents, singular.
 * @param {string} typed
 * @param {Record<string, string>} spelt
 * @returns {string[]}
 */
function plain(typed, spelt) {
  const letters = typed.toLowerCase().normalize('NFKD').replace(/[\u0300-\u036f'’]/g, '').replaceAll('%', ' % ');
  const words = letters.split(/[^\p{L}\p{N}%&.]+/u).filter(Boolean);
  return words.flatMap((word) => one(word, spelt).split(' '));
}

/**
 * @param {string} word
 * @param {Record<string, string>} spelt
 */
function one(word, spelt) {
  if (word in spelt) return spelt[word];
  const single = word.length > 3 && /s$/.test(word) && !/(?:ss|us|is)$/.test(word) ? word.replace(/(?<=o|sh|ch)es$|s$/, '') : word;
  return spelt[single] ?? single;
}

/**
 * The liquids that some words name, the longest names first found; at most two.
 * @param {string[]} words
 * @param {Record<string, string>} names
 * @returns {Found[]}
 */
function named(words, names) {
  /** @type {Found[]} */
  const found = [];
  for (let at = 0; at < words.length; at += 1) {
    for (let end = Math.min(words.length, at + WORDS); end > at; end -= 1) {
      const key = Object.hasOwn(names, words.slice(at, end).join(' ')) && names[words.slice(at, end).join(' ')];
      if (!key) continue;
      if (!found.some((each) => each.key === key)) found.push({key, at});
      at = end - 1;
      break;
    }
  }
  return found.slice(0, 2);
}
