"""What must agree where two languages or two style sheets say it."""

import json
import re

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


def test_what_stands_alone_has_the_sites_colours():
    """The light page's are named before those of the dark one."""
    ours = re.findall(r"--dw-(paper|ink|soft|water|good|bad): (#[0-9a-f]{6})", STYLE)
    assert dict(ours[:6]) == page.LIGHT
    assert dict(ours[6:12]) == page.DARK
    manifest = json.loads((DOCS / "pages/manifest.webmanifest").read_text("utf-8"))
    assert {manifest["background_color"], manifest["theme_color"]} == {page.LIGHT["paper"]}
