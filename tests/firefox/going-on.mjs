// From page to page: `node going-on.mjs BROWSER ADDRESS`, with the pages and the rounds as JSON on standard input.
// Prints the milliseconds from the click to the next page's answer, back to the first, and to a bare page's answer.
// A page of tests/bench/next_page.py notes by itself when its answer is there.

import puppeteer from 'puppeteer-core';

const [executablePath, address] = process.argv.slice(2);
const chunks = [];
for await (const chunk of process.stdin) chunks.push(chunk);
const {first, next, bare, pointed, rounds} = JSON.parse(Buffer.concat(chunks).toString());
const LONG = {timeout: 120_000};
const isFirefox = executablePath.includes('firefox');

const browser = await puppeteer.launch({
  browser: isFirefox ? 'firefox' : 'chrome', executablePath, headless: true, ...LONG,
  ...(!isFirefox && {args: ['--no-sandbox', '--disable-gpu'], ignoreDefaultArgs: ['--disable-back-forward-cache']}),
});
const taken = {next: [], back: [], bare: []};
try {
  for (let round = 0; round < rounds; round++) {
    taken.bare.push(await alone(bare));
    await goOn();
  }
} finally {
  await browser.close();
}
console.log(JSON.stringify(taken));

async function opened(path) {
  const page = await (await browser.createBrowserContext()).newPage();
  page.setDefaultTimeout(LONG.timeout);
  await page.setViewport({width: 1280, height: 900});
  await page.goto(address + path, LONG);
  return page;
}

async function alone(path) {
  const page = await opened(path);
  const milliseconds = await answered(page, path);
  await page.browserContext().close();
  return milliseconds;
}

/** A page that is seen says since when, and when its answer was there. */
async function answered(page, path) {
  for (const end = Date.now() + LONG.timeout; Date.now() < end;) {
    const found = await page.evaluate((wanted) => (location.href.endsWith(wanted) ? document.documentElement.dataset.taken : undefined), path).catch(() => undefined);
    if (found) return Number(found);
    await rest(50);
  }
  throw new Error(`No answer in ${path}.`);
}

async function goOn() {
  const page = await opened(first);
  await answered(page, first);
  await rest(1500);
  await page.evaluate((href) => {
    const link = document.createElement('a');
    link.id = 'go-on';
    link.href = href;
    link.textContent = 'Go on';
    document.querySelector('h1').append(link);
  }, address + next);
  await page.hover('#go-on');
  await rest(pointed);
  await page.click('#go-on').catch(() => {});
  taken.next.push(await answered(page, next));
  await rest(500);
  const begun = Date.now();
  await page.evaluate(() => { document.documentElement.dataset.left = ''; history.back(); }).catch(() => {});
  while (!(await page.evaluate((path) => location.href.endsWith(path) && document.documentElement.dataset.taken, first).catch(() => false))) await rest(5);
  taken.back.push(Date.now() - begun);
  await page.browserContext().close();
}

function rest(milliseconds) {
  return new Promise((done) => setTimeout(done, milliseconds));
}
