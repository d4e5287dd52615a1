// Chromium as a reader who points at a link, does something else, and follows it: `node ahead.mjs CHROMIUM ADDRESS`,
// with an ingredient as JSON on standard input. Prints what it saw as JSON. The other tests' driver lets no page be
// loaded ahead.

import puppeteer from 'puppeteer-core';

const [executablePath, address] = process.argv.slice(2);
const chunks = [];
for await (const chunk of process.stdin) chunks.push(chunk);
const own = Buffer.concat(chunks).toString();
const LONG = {timeout: 60_000};

const browser = await puppeteer.launch({executablePath, headless: true, args: ['--no-sandbox', '--disable-gpu'], ...LONG});
const troubles = [];
const seen = {troubles};
try {
  const page = await browser.newPage();
  page.setDefaultTimeout(LONG.timeout);
  await page.setViewport({width: 1280, height: 900});
  page.on('console', (message) => message.type() === 'error' && troubles.push(message.text()));
  page.on('pageerror', (error) => troubles.push(String(error)));
  await page.goto(`${address}swap/`, LONG);
  // The service worker answers from here on: the page that is loaded ahead comes through it.
  await page.evaluate(async (worker) => {
    await navigator.serviceWorker.register(worker);
    await navigator.serviceWorker.ready;
  }, `${address}sw.js`);
  await page.goto(`${address}swap/`, LONG);
  await page.waitForSelector('html[data-engine=ready]');
  seen.isOfWorker = await page.evaluate(() => Boolean(navigator.serviceWorker.controller));

  // Pointed at; meanwhile the reader keeps an ingredient and takes the dark page; then the click.
  const before = await kept(page);
  await link(page, 'lessons/part-swaps-blends-eggs/?flour=600+g&becomes=own-my-yogurt');
  await page.hover('#onward');
  await loaded(page);
  seen.writtenAhead = (await kept(page)).filter((name) => !before.includes(name));
  await page.evaluate((row) => localStorage.setItem('doughwater/ingredients', `[${row}]`), own);
  await page.evaluate(() => document.querySelector('label[for="__palette_1"]').click());
  await page.click('#onward').catch(() => {});
  seen.pointed = await told(page, 'liquid-swap .dw-answer', 'My yogurt');
  await told(page, 'lesson-steps[data-at]');
  seen.keptSeen = (await kept(page)).filter((name) => name.includes('lesson/'));
  seen.offline = await told(page, '.dw-offline');

  // By keyboard, and without a network: the focus rests on the link, and Python answers with the kept ingredient.
  const other = await browser.newPage();
  await other.setViewport({width: 1280, height: 900});
  await other.goto(`${address}liquids/`, LONG);
  await other.waitForSelector('.dw-key');
  await link(other, 'swap/?flour=600+g&becomes=own-my-yogurt');
  await other.setOfflineMode(true);
  await other.keyboard.press('Tab');
  await other.focus('#onward');
  await loaded(other);
  // The page goes while the key is down.
  await other.keyboard.press('Enter').catch(() => {});
  seen.focused = await told(other, 'liquid-swap .dw-answer', 'My yogurt');
} finally {
  await browser.close();
}
console.log(JSON.stringify(seen));

/** A link at the top of a page. */
function link(page, path) {
  return page.evaluate((href) => {
    const made = Object.assign(document.createElement('a'), {id: 'onward', href, textContent: 'Onward'});
    document.querySelector('h1').prepend(made);
  }, address + path);
}

/** Nothing tells a page that another was loaded ahead of it. */
function loaded() {
  return new Promise((done) => setTimeout(done, 4_000));
}

function kept(page) {
  return page.evaluate(() => Object.keys(localStorage).filter((name) => name.startsWith('doughwater/')));
}

/** What the next page says of itself as soon as something is in it. */
async function told(page, selector, text = '') {
  const look = (where, words) => {
    const place = document.querySelector(where);
    return place?.textContent.includes(words) && !document.prerendering && {
      isLoadedAhead: performance.getEntriesByType('navigation')[0].activationStart > 0,
      colours: document.body.dataset.mdColorScheme,
      hasOwn: Boolean(document.querySelector('option[value="own-my-yogurt"]')),
    };
  };
  for (const end = Date.now() + LONG.timeout; Date.now() < end;) {
    // While one page takes the other's place there is none to ask.
    const found = await page.evaluate(look, selector, text).catch(() => null);
    if (found) return found;
    await new Promise((done) => setTimeout(done, 100));
  }
  throw new Error(`Not seen: ${selector}`);
}
