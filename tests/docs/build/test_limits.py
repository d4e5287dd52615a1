"""What must agree where two languages or two style sheets say it."""

import re
from pathlib import Path

from docs.build.icons import PAPER
from docs.build.limits import LIMITS
from docs.build.modules import DOCS
from exercises.publish import page

SCRIPTS = sorted([*DOCS.glob("parts/**/*.js"), *DOCS.glob("page/*.js"), *DOCS.glob("course/*.js")])
STYLE = (DOCS / "pages/assets/style.css").read_text("utf-8")


def test_the_scripts_read_every_limit_and_no_other():
    used = {
        name for file in SCRIPTS for name in re.findall(r"LIMITS\.(\w+)", file.read_text("utf-8"))
    }
    assert used == set(LIMITS)


def test_the_scripts_have_no_copy_of_a_limit():
    # A thousand is milliseconds, too.
    values = {value for value in LIMITS.values() if isinstance(value, int) and value > 1_000}
    for file in SCRIPTS:
        numbers = {
            int(n.replace("_", "")) for n in re.findall(r"\b\d[\d_]{3,}\b", file.read_text("utf-8"))
        }
        assert not numbers & values, file.name


def colours(text, prefix):
    """The colours that a style sheet names, those of the light page before those of the dark one."""
    return re.findall(rf"--{prefix}(paper|ink|soft|water|good|bad): (#[0-9a-f]{{6}})", text)


def test_pages_that_stand_alone_have_the_sites_colours():
    ours, alone = colours(STYLE, "dw-"), colours(Path(page.__file__).read_text("utf-8"), "")
    assert len(alone) == 12
    light, dark = dict(ours[:6]), dict(ours[6:12])
    assert dict(alone[:6]) == light
    assert dict(alone[6:]) == dark
    assert light["paper"] == PAPER
