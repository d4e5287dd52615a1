// Firefox as a reader: `node visit.mjs FIREFOX ADDRESS`, with what to type as JSON on standard input.
// Prints what it saw as JSON; the pytest test judges it. Over WebDriver BiDi (W3C), no driver beside it.

import puppeteer from 'puppeteer-core';

const [executablePath, address] = process.argv.slice(2);
const chunks = [];
for await (const chunk of process.stdin) chunks.push(chunk);
const {student, problem, step, wrong, right} = JSON.parse(Buffer.concat(chunks).toString());
const LONG = {timeout: 120_000};

const browser = await puppeteer.launch({browser: 'firefox', executablePath, headless: true, ...LONG});
const troubles = [];
const seen = {troubles};
try {
  const page = await browser.newPage();
  page.setDefaultTimeout(LONG.timeout);
  page.on('console', (message) => ['error', 'warn'].includes(message.type()) && troubles.push(message.text()));
  page.on('pageerror', (error) => troubles.push(String(error)));

  const type = async (selector, text) => {
    await page.focus(selector);
    await page.$eval(selector, (box) => box.select());
    await page.keyboard.type(text);
  };
  const shows = (selector, text) =>
    page.waitForFunction((where, wanted) => document.querySelector(where)?.textContent.replaceAll('\u00a0', ' ').includes(wanted), {}, selector, text);

  await page.goto(`${address}swap/`, LONG);
  await page.waitForSelector('liquid-swap:defined');
  await type('liquid-swap input[name=flour]', '1,25 kg');
  await shows('liquid-swap .dw-sheet', '1250');
  seen.said = await page.$eval('liquid-swap > .dw-status', (line) => line.textContent);
  seen.start = await page.evaluate(() => document.documentElement.dataset.engineStart);

  // A second flour is found by typing; its row goes to the flour above, and the focus with it.
  await type('#swap-with4', 'rye fl');
  await page.waitForSelector('.dw-found-one[aria-selected=true]');
  await page.keyboard.press('Enter');
  await page.keyboard.press('Tab');
  await page.keyboard.type('20 %');
  await shows('liquid-swap [data-cell="after amount4"]', '313 g');
  seen.typing = await page.evaluate(() => document.activeElement?.getAttribute('name'));

  // At every field the answer is in the window: in its place, or in the line at the window's foot.
  seen.outOfSight = [];
  for (const [width, height] of [[360, 740], [740, 360], [1280, 800]]) {
    await page.setViewport({width, height});
    for (const box of await page.$$('liquid-swap .dw-line:not([hidden]) td input[name]')) {
      await box.focus();
      const isSeen = page.waitForFunction(() => [...document.querySelectorAll('liquid-swap .dw-answer, liquid-swap > .dw-status')].some((each) => {
        const {top, bottom, width: wide} = each.getBoundingClientRect();
        return top >= 0 && bottom <= innerHeight && wide > 50 && getComputedStyle(each).opacity === '1';
      }), {timeout: 20_000});
      await isSeen.catch(async () => seen.outOfSight.push([width, height, await box.evaluate(({name}) => name)]));
    }
  }

  await page.goto(`${address}practice/first-swaps/`, LONG);
  await page.waitForSelector('problem-set:defined');
  await type('input[name=student]', student);
  await page.keyboard.press('Tab');
  await shows('problem-set .dw-status', 'These are your numbers');
  await page.click(`[data-tick="${problem}"]`);
  const form = `form[data-problem="${problem}"]`;
  for (const [name, answer] of Object.entries({wrong, right})) {
    await type(`${form} input[name="${step}"]`, answer);
    await page.keyboard.press('Enter');
    await page.waitForFunction((where) => document.querySelector(where).hasAttribute('data-verdict'), {}, `${form} input[name="${step}"]`);
    seen[name] = await page.$eval(`${form} .dw-marks`, (marks) => marks.textContent);
  }

  // At the teacher's desk the invented class is marked, from the keyboard, and a set is written.
  await page.goto(`${address}desk/mark/?demo`, LONG);
  await shows('class-marker [data-came]', 'Missing (2)');
  await page.focus('class-marker [name=scale]');
  await page.keyboard.press('Enter');
  await page.waitForSelector('class-marker .dw-class-table .dw-open');
  seen.marked = await page.$eval('class-marker > .dw-status', (line) => line.textContent);
  await page.goto(`${address}desk/write/`, LONG);
  await page.waitForSelector('set-writer .dw-writer-bar');
  await type('set-writer [name=title]', 'Rolls');
  await page.keyboard.press('Tab');
  await shows('desk-set', 'Rolls');
  await shows('set-writer > .dw-status', 'Good: 2 problems.');
  seen.kept = await page.evaluate(() => Object.keys(localStorage).filter((name) => name.endsWith('.yml')));

  // Python goes on from page to page, and the way back leads to the page as it was left. The driver waits in
  // vain for such a page to load, so this is the last.
  seen.counts = [await page.evaluate(countPage, address)];
  await page.evaluate(() => { window.isAsLeft = true; });
  await page.goto(`${address}liquids/`, LONG);
  seen.counts.push(await page.evaluate(countPage, address));
  await page.evaluate(() => history.back());
  await page.waitForFunction(() => location.pathname.endsWith('/desk/write/') && document.readyState === 'complete');
  seen.isAsLeft = await page.evaluate(() => window.isAsLeft);
} finally {
  await browser.close();
}
console.log(JSON.stringify(seen));

/** Asks the worker that pages share to count them, as no page of ours does. */
function countPage(site) {
  const {port} = new SharedWorker(`${site}engine/worker.js`, {type: 'module', name: 'python', extendedLifetime: true});
  const code = "import builtins\nbuiltins.pages = getattr(builtins, 'pages', 0) + 1\nprint(builtins.pages)";
  port.postMessage({id: 1, request: JSON.stringify({part: 'python-cell', fields: {code}})});
  return new Promise((resolve) => {
    port.onmessage = ({data}) => data.answer && resolve(Number(JSON.parse(data.answer).text));
  });
}
