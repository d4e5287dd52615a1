"""For every test. Hypothesis's deadlines are off: a busy machine is not a failure."""

from hypothesis import settings

# What builds the site or starts a browser.
SITE_FIXTURES = {"site", "playwright", "browsers"}

settings.register_profile("no clock", deadline=None)
settings.load_profile("no clock")


def pytest_collection_modifyitems(items):
    """Mark what needs the site, so that a quick run can leave it out."""
    for item in items:
        if SITE_FIXTURES & set(item.fixturenames):
            item.add_marker("site")
    # What takes longest begins first: begun last, it would run alone when all others are done.
    items.sort(key=lambda item: item.path.name != "test_recipes.py")
