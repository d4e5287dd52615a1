"""For every test. Hypothesis's deadlines are off: a busy machine is not a failure.

Its cases are the same in every run, so that a commit passes or fails by what is in it and not by luck.
To look for cases that no run has had, before a larger change lands: ``--hypothesis-profile explore``.
"""

import gc

from hypothesis import settings

# Ten thousand tests are made, and none of them is garbage.
gc.disable()

# What builds the site or starts a browser.
SITE_FIXTURES = {"site", "playwright", "context", "browser_at_hand"}

# Files with single tests of many seconds.
LONGEST = {"test_recipes.py", "test_build.py", "test_engine_trouble.py", "test_hosting.py", "test_school.py", "test_firefox.py"}  # fmt: skip

settings.register_profile("same cases", deadline=None, derandomize=True)
settings.register_profile("explore", deadline=None, max_examples=500)
settings.load_profile("same cases")


def pytest_addoption(parser):
    parser.addoption("--site", help="a folder with the built site, instead of building it")


def pytest_collection_modifyitems(items):
    """Mark what needs the site, so that a quick run can leave it out."""
    for item in items:
        if SITE_FIXTURES & set(item.fixturenames):
            item.add_marker("site")
    # What takes longest begins first: begun last, it would run alone when all others are done.
    items.sort(key=lambda item: item.path.name not in LONGEST)


def pytest_collection_finish():
    """What is there now stays to the end: no search for garbage goes through all those tests again."""
    gc.freeze()
    gc.enable()
