"""The site for readers who do not see, point, or read small text well.

The rules are not ours: axe-core (npm, at the version locked in `tests/axe/`) tests what a machine can
test of the W3C's Web Content Accessibility Guidelines 2.2, levels A and AA, and its own list of best
practice. Where a test checks a guideline by itself, it names it.
"""

import pytest
from playwright.sync_api import expect

from tests.npm_packages import installed
from tests.site.conftest import watch
from tests.site.test_balance_part import FIRST_START
from tests.site.test_pages import PAGES
from tests.site.test_study import give_me_a_problem

from pathlib import Path
