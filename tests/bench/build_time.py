"""How long the site takes to build, against the same pages with MkDocs' plain theme and no parts.

    python -m tests.bench.build_time        five turns
    python -m tests.bench.build_time 9      as many as you say

Each turn builds both in fresh processes, one after the other; the medians and their ratio are
printed. Seconds are the processor's (of the build and all that it starts), so that other work on the
machine counts less. A first build of each, not counted, fills what the engine's preparation keeps.
"""

from __future__ import annotations

import resource
import statistics
import subprocess
import sys
import tempfile
from pathlib import Path

from docs.build.site import ROOT

OURS = """
import sys; from pathlib import Path; from docs.build.site import build_site
build_site(Path(sys.argv[1]))
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


def seconds(program: str) -> float:
    """The processor's seconds of one build."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    with tempfile.TemporaryDirectory() as folder:
        command = [sys.executable, "-W", "ignore", "-c", program, str(Path(folder) / "site")]
        subprocess.run(command, check=True, cwd=ROOT, capture_output=True)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def main() -> None:
    turns = int(sys.argv[1]) if len(sys.argv) > 1 else 5
    for program in (OURS, PLAIN):
        seconds(program)
    pairs = [(seconds(OURS), seconds(PLAIN)) for _ in range(turns)]
    ours, plain = (statistics.median(each) for each in zip(*pairs, strict=True))
    print(
        f"Build, processor seconds, median of {turns}: the site {ours:.2f}, plain pages {plain:.2f}."
    )
    print(f"Ratio: {ours / plain:.2f}")


if __name__ == "__main__":
    main()
