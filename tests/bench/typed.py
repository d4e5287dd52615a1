"""How soon an answer is painted after a letter is typed, at full speed and on a processor four times slower.

    python -m tests.bench.typed        the site is built, and served on this machine

The page comes into the flour of the swap, and a moment later types forty amounts, one after the other. From the input event to the first
frame after the answer stands in the page; beside it the worker's share, from the question to its answer. The slower
processor is the browser's own (`Emulation.setCPUThrottlingRate`), which slows the page and not the worker.
"""

from __future__ import annotations

import tempfile
from pathlib import Path
from statistics import median

from playwright.sync_api import Browser, sync_playwright

from docs.build.site import build_site
from tests.bench.first_answer import launched, served

PAGE = "swap/"
SLOWER = {1: 50, 4: 150}
# From coming into the field to the first letter, in milliseconds.
THOUGHT = 1500
STARTED = "html[data-engine=ready]"
TYPE = """async () => {
  const {engine} = await import(new URL('../engine/engine.js', location.href));
  const part = document.querySelector('liquid-swap');
  const box = part.querySelector('[name=flour]');
  const {ask} = engine;
  const asked = [], painted = [];
  engine.ask = async (...all) => {
    const begun = performance.now();
    const answer = await ask.apply(engine, all);
    asked.push(performance.now() - begun);
    return answer;
  };
  const frame = () => new Promise((done) => requestAnimationFrame(() => setTimeout(done)));
  for (let flour = 500; flour < 540; flour++) {
    const begun = performance.now();
    box.value = `${flour} g`;
    box.dispatchEvent(new Event('input', {bubbles: true}));
    await part.asking;
    await frame();
    painted.push(performance.now() - begun);
  }
  return [painted, asked];
}"""


def typed(browser: Browser, address: str, slower: int) -> tuple[float, float]:
    """The medians in milliseconds: from typed to painted, and from asked to answered."""
    context = browser.new_context()
    page = context.new_page()
    page.goto(address + PAGE)
    page.wait_for_selector(STARTED, timeout=180_000)
    page.focus("liquid-swap [name=flour]")
    page.wait_for_timeout(THOUGHT)
    rate = {"rate": slower}
    context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", rate)
    painted, asked = page.evaluate(TYPE)
    context.close()
    return median(painted), median(asked)


def main() -> None:
    with tempfile.TemporaryDirectory() as made, sync_playwright() as playwright:
        site = build_site(Path(made, "site"))
        print(f"{'milliseconds, medians of 40':<32} {'painted':>9} {'answered':>9} {'goal':>6}")
        with served(site) as address, launched(playwright) as browser:
            for slower, goal in SLOWER.items():
                times = typed(browser, address, slower)
                print(f"processor slower by {slower:<12} {times[0]:9.0f} {times[1]:9.0f} {goal:6}")


if __name__ == "__main__":
    main()
