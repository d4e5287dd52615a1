"""What is repaired of the theme's HTML; a browser and axe-core look at whole pages in tests/site."""

from docs.build.accessibility import repair
from docs.build.tree import read
from tests.docs.build.bodies import body


def repaired(html):
    page = read(f"<body>{html}</body>")
    repair(page)
    return body(page)


def test_the_search_box_is_no_dialog_and_a_box_within_stays_one():
    html = '<div class="md-search" role="dialog"><div role="search"></div></div>'
    assert repaired(html) == html.replace(' role="dialog"', "")
    assert repaired('<div role="dialog"></div>') == '<div role="dialog"></div>'


def test_a_switch_is_named_by_what_it_switches_to():
    html = '<input aria-label="Light page" class="md-option" data-md-color-scheme="slate">'
    assert 'aria-label="Dark page"' in repaired(html)


def test_nothing_is_fetched_ahead():
    assert repaired('<link rel="next" href="b"><link rel="icon" href="i">') == (
        '<link rel="icon" href="i">'
    )


def test_a_screen_reader_is_told_nothing_of_a_search_that_nobody_began():
    """Tried with one: "invalid entry, required", then "Initializing search", on each page."""
    html = '<input class="md-search__input" required><div class="md-search-result__meta">Initializing search</div>'
    assert repaired(html) == html.replace(" required", "").replace("Initializing search", "")


def test_a_link_beside_a_heading_is_named():
    html = '<h2>A<a class="headerlink" href="#a" title="Link to this part">¶</a></h2>'
    assert 'aria-label="Link to this part"' in repaired(html)
