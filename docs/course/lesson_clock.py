"""A lesson by the clock, with its demonstration beside it: ``<lesson-clock lesson="preferments">``."""

from __future__ import annotations

from collections.abc import Mapping
from xml.etree.ElementTree import Element

from docs.course.benches import Stretch, bench_of, setting
from exercises.publish.html import Child, element, table


def build(attributes: Mapping[str, str]) -> list[Element]:
    """``lesson`` is its key. Raises ValueError with those there are."""
    bench = bench_of(attributes["lesson"])
    heads = ["Minute", f"In {setting('period')} min", f"In {setting('short')} min", "What"]
    rows = [_row(*each) for each in zip(bench.begins, bench.clock, strict=True)]
    return [table("", heads, rows, "dw-clock"), element("p", SHORT)]


SHORT = (
    "In the short lesson there is no time for the bench: show doughs or rolls that are ready. "
    "Clearing up comes on top. Allow ten minutes: scrape the dough into the bin, soak bowls in cold "
    "water (hot water sets dough), wipe the bench wet."
)


def _row(begin: int, stretch: Stretch) -> list[Child]:
    what = stretch.what
    return [
        str(begin),
        str(stretch.minutes),
        str(stretch.short or "–"),
        element("strong", what) if stretch.starts or stretch.look is not None else what,
    ]
