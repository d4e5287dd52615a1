// Firefox in a school's system: `node at-school.mjs FIREFOX ADDRESS`, with what to answer as JSON on standard input.
// Begins, leaves, goes on elsewhere while the system takes nothing, sends again, and ends; then looks at the closed attempt.

import puppeteer from 'puppeteer-core';

const [executablePath, address] = process.argv.slice(2);
const chunks = [];
for await (const chunk of process.stdin) chunks.push(chunk);
/** @type {{id: string, answers: Record<string, string>}[]} */
const [first, second, ...others] = JSON.parse(Buffer.concat(chunks).toString());
const LONG = {timeout: 120_000};
const STATUS = 'school-set > .dw-status';

const browser = await puppeteer.launch({browser: 'firefox', executablePath, headless: true, ...LONG});
const troubles = [];
const seen = {troubles};
try {
  await work();
  await look();
} finally {
  await browser.close();
}
console.log(JSON.stringify(seen));

async function work() {
  const here = await seat();
  seen.begun = await here.status();
  await here.answer(first);
  await here.mark(first);
  await here.hears('Saved in your school');
  // What is only typed goes along when the page goes.
  await here.answer(second);
  await here.leave();
  const elsewhere = await seat();
  seen.back = [await elsewhere.answers(first), await elsewhere.answers(second)];
  await elsewhere.tell('failing');
  await elsewhere.mark(second);
  await elsewhere.hears('did not take your work');
  await elsewhere.tell('working');
  await elsewhere.frame.$$eval('button', (all) => all.find(({textContent}) => textContent === 'Send my work again').click());
  await elsewhere.hears('Saved in your school');
  for (const problem of others) {
    await elsewhere.answer(problem);
    await elsewhere.mark(problem);
  }
  await elsewhere.hears('Saved in your school');
  await elsewhere.tell('closed');
  await elsewhere.leave();
}

async function look() {
  const here = await seat();
  seen.closed = await here.status();
  seen.open = await here.frame.$$eval('problem-set form[data-problem] :is(input, select)', (all) => all.filter(({disabled}) => !disabled).length);
  await here.leave();
}

/** The item in a browser whose store is empty. */
async function seat() {
  const context = await browser.createBrowserContext();
  const page = await context.newPage();
  page.setDefaultTimeout(LONG.timeout);
  page.on('pageerror', (error) => troubles.push(String(error)));
  await page.goto(`${address}play`, LONG);
  const frame = await (await page.waitForSelector('iframe')).contentFrame();
  await frame.waitForSelector('html[data-engine=ready] problem-set[data-named]');
  const form = ({id}) => `problem-set form[data-problem="${id}"]`;
  return {
    frame,
    status: () => frame.$eval(STATUS, (line) => line.textContent),
    hears: (text) => frame.waitForFunction((where, wanted) => document.querySelector(where).textContent.includes(wanted), {}, STATUS, text),
    tell: (how) => page.evaluate((where) => fetch(where).then(({ok}) => ok), `${address}${how}`),
    async answer(problem) {
      await frame.click(`[data-tick="${problem.id}"]`);
      for (const [name, text] of Object.entries(problem.answers)) {
        await frame.focus(`${form(problem)} [name="${name}"]`);
        await page.keyboard.type(text);
      }
    },
    async mark(problem) {
      await frame.click(`[data-tick="${problem.id}"]`);
      await frame.$eval(form(problem), (each) => each.requestSubmit());
      await frame.waitForSelector(`${form(problem)} .dw-marks:not(:empty)`);
    },
    answers: (problem) =>
      frame.$eval(form(problem), (each, names) => Object.fromEntries(names.map((name) => [name, each.elements.namedItem(name).value])), Object.keys(problem.answers)),
    async leave() {
      await page.goto('about:blank');
      await context.close();
    },
  };
}
