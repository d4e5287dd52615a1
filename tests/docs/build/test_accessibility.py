"""What is repaired of the theme's HTML; a browser and axe-core look at whole pages in tests/site."""

from bs4 import BeautifulSoup

from docs.build.accessibility import repair


def repaired(html):
    soup = BeautifulSoup(html, "html.parser")
    repair(soup)
    return str(soup)


def test_the_search_box_is_no_dialog_and_a_box_within_stays_one():
    html = '<div class="md-search" role="dialog"><div role="search"></div></div>'
    assert repaired(html) == html.replace(' role="dialog"', "")
    assert repaired('<div role="dialog"></div>') == '<div role="dialog"></div>'


def test_a_switch_is_named_by_what_it_switches_to():
    html = '<input aria-label="Light page" class="md-option" data-md-color-scheme="slate"/>'
    assert 'aria-label="Dark page"' in repaired(html)


def test_nothing_is_fetched_ahead():
    assert repaired('<link rel="next" href="b"/><link rel="icon" href="i"/>') == (
        '<link href="i" rel="icon"/>'
    )
