"""How long the site takes to build, against the same pages with MkDocs' plain theme and no parts.

    python -m tests.bench.build_time        five turns
    python -m tests.bench.build_time 9      as many as you say

Each turn builds in fresh processes, one after the other: the site where nothing changed, the whole site anew, plain
pages; the medians and their ratios are printed. The clock's seconds are what a writer waits, on all cores, on a machine
with nothing else to do; the processor's (of the build and all that it starts) count other work less. A first build
of each, not counted, makes the engine, which later builds keep.
"""

from __future__ import annotations

import resource
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from docs.build.site import ROOT

OURS = """
import sys; from pathlib import Path; from docs.build.site import build_site
if __name__ == "__main__":
    build_site(Path(sys.argv[1]), anew={anew})
"""
# The same Markdown, read with the same extensions, and nothing else.
PLAIN = """
import sys; from mkdocs.commands.build import build; from mkdocs.config import load_config
from docs.build.nav import with_lessons
config = load_config("site_config.yml", site_dir=sys.argv[1], theme={"name": "mkdocs"}, strict=False,
                     extra_javascript=[], extra_css=[])
config.nav = with_lessons(config.nav)
build(config)
"""


BUILDS = {
    "nothing changed": OURS.format(anew=False),
    "all anew": OURS.format(anew=True),
    "plain pages": PLAIN,
}
GOAL = "goal: all anew at most 5 times plain pages"


def seconds(program: str) -> tuple[float, float]:
    """The clock's and the processor's seconds of one build."""
    before, begun = resource.getrusage(resource.RUSAGE_CHILDREN), time.monotonic()
    with tempfile.TemporaryDirectory() as folder:
        command = [sys.executable, "-W", "ignore", "-c", program, str(Path(folder) / "site")]
        subprocess.run(command, check=True, cwd=ROOT, capture_output=True)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return time.monotonic() - begun, (
        after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    )


def main() -> None:
    turns = int(sys.argv[1]) if len(sys.argv) > 1 else 5
    for program in BUILDS.values():
        seconds(program)
    found = [[seconds(program) for program in BUILDS.values()] for _ in range(turns)]
    medians = [
        [statistics.median(each) for each in zip(*build, strict=True)]
        for build in zip(*found, strict=True)
    ]
    print(f"Build, median of {turns} ({GOAL})")
    print(f"{'':>16} {'clock s':>8} {'ratio':>6} {'processor s':>12} {'ratio':>6}")
    for name, (clock, processor) in zip(BUILDS, medians, strict=True):
        ratios = clock / medians[-1][0], processor / medians[-1][1]
        print(f"{name:>16} {clock:8.2f} {ratios[0]:6.2f} {processor:12.2f} {ratios[1]:6.2f}")


if __name__ == "__main__":
    main()
