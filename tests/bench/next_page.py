"""From the click on a link to the next page's first answer of Python, in Chromium and in Firefox.

    python -m tests.bench.next_page        seven rounds
    python -m tests.bench.next_page 3      as many as you say

Beside it the same browser's start of a bare page with the same Pyodide. The pointer rests on the link for half
a second before the click, so that a browser that can has loaded the page ahead. Medians are printed.
"""

from __future__ import annotations

import statistics
import sys
import tempfile
from pathlib import Path

from docs.build.join import JOINED
from docs.offline.file_list import write_worker
from exercises.publish.pdf import browser as chromium
from tests.bench.first_answer import ADDED, ANSWERED, BARE, LESSON, NEXT, served, with_bare_page
from tests.browsers import firefox
from tests.site.in_firefox import visited

ROUNDS = 7
POINTED = 500
# Each page notes how long its answer took: since the click that led to it, or since its own start.
NOTE = """
(() => {
  addEventListener('click', ({target, timeStamp}) => {
    if (target.closest('a')) sessionStorage.setItem('clicked', performance.timeOrigin + timeStamp);
  }, true);
  addEventListener('DOMContentLoaded', () => {
    const look = () => {
      if (document.documentElement.dataset.taken || !(%s)) return;
      const since = Number(sessionStorage.getItem('clicked') ?? performance.timeOrigin);
      document.documentElement.dataset.taken = performance.timeOrigin + performance.now() - since;
    };
    new MutationObserver(look).observe(document, {childList: true, subtree: true, characterData: true});
    look();
  });
})();
"""


def with_notes(site: Path) -> None:
    """Let the pages note it, in the first file of scripts that each runs."""
    joined = site / JOINED
    joined.write_text(NOTE % ANSWERED + joined.read_text("utf-8"), "utf-8")
    write_worker(site)
    (site / BARE / "note.js").write_text(NOTE % ADDED, "utf-8")
    page = site / BARE / "index.html"
    page.write_text(
        page.read_text("utf-8").replace("<p", '<script src="note.js"></script><p', 1), "utf-8"
    )


def report(rounds: int) -> None:
    told = {"first": LESSON, "next": NEXT, "bare": BARE, "pointed": POINTED, "rounds": rounds}
    with tempfile.TemporaryDirectory() as made:
        site = with_bare_page(Path(made, "site"))
        with_notes(site)
        with served(site) as here:
            for name, program in (("Chromium", chromium()), ("Firefox", firefox())):
                taken = visited("going-on.mjs", here, told, program)
                each = {key: statistics.median(times) for key, times in taken.items()}
                print(f"{name}: the bare page's start {each['bare']:.0f} ms", flush=True)
                for key, goal in (("next", "0.05"), ("back", "")):
                    print(f"  {key:<6} {each[key]:6.0f} ms {each[key] / each['bare']:6.2f}  {goal}")


if __name__ == "__main__":
    report(int(sys.argv[1]) if len(sys.argv) > 1 else ROUNDS)
