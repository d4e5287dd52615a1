"""The theme's sheets: what the site can show keeps its rules, each selector by itself."""

import pytest
from mkdocs.config import load_config

from docs.build.site import CONFIG
from docs.build.theme_sheet import SHOWN_BY, lean, switched_on

PAGE = '<html lang="en"><body dir="ltr" data-md-color-primary="custom"><details class="note">'


@pytest.mark.parametrize(
    ("sheet", "left"),
    [
        (".md-typeset p{margin:1em}", ".md-typeset p{margin:1em}"),
        # Of a list of selectors those stay that are needed, also where one has a list of its own.
        (
            ".md-nav a,.tabbed-set>input,.a:is(.b,:not(.c,.d)) i{top:0}",
            ".md-nav a,.a:is(.b,:not(.c,.d)) i{top:0}",
        ),
        ("@media print{.footnote{top:0}.md-nav{top:1px}}", "@media print{.md-nav{top:1px}}"),
        ("@media print{.footnote{top:0}}.md-nav{top:1px}", ".md-nav{top:1px}"),
        ("@keyframes heart{0%{top:0}to{top:1px}}", "@keyframes heart{0%{top:0}to{top:1px}}"),
        ('@charset "UTF-8";.md-banner{top:0}html{top:0}', '@charset "UTF-8";html{top:0}'),
        ("[dir=rtl] .md-nav,[dir=ltr] .md-nav{left:0}", "[dir=ltr] .md-nav{left:0}"),
        ("[data-md-color-primary=pink]{--c:#e91e63}", ""),
        ("[data-md-color-primary=custom]{--c:#223}", "[data-md-color-primary=custom]{--c:#223}"),
        ("[data-md-color-scheme=slate]{--c:#223}", "[data-md-color-scheme=slate]{--c:#223}"),
        ("[data-md-color-switching] *{transition-duration:0s}", ""),
        (".md-typeset table:not([class]){top:0}", ".md-typeset table:not([class]){top:0}"),
        (".md-typeset table:not([class]) td>:first-child{margin-top:0}", ""),
    ],
)
def test_what_the_site_can_show_stays(sheet, left):
    assert lean(sheet, (), PAGE) == left


@pytest.mark.parametrize("name", ["pymdownx.tabbed", "blog", "repo_url"])
def test_what_an_author_switches_on_has_its_rules(name):
    sheet = ".tabbed-set{top:0}.md-post{top:0}.md-source{top:0}"
    only = {"pymdownx.tabbed": "tabbed-set", "blog": "md-post", "repo_url": "md-source"}[name]
    assert lean(sheet, (), PAGE) == ""
    assert lean(sheet, (name,), PAGE) == f".{only}{{top:0}}"


def test_a_configuration_says_what_is_on():
    assert not switched_on(load_config(str(CONFIG))) & SHOWN_BY.keys()
    more = load_config(
        str(CONFIG),
        repo_url="https://example.org/dough",
        plugins=["material/tags"],
        markdown_extensions=["footnotes"],
        extra={"social": []},
    )
    more.theme["features"] = ["navigation.top"]
    on = switched_on(more) & SHOWN_BY.keys()
    assert on == {"repo_url", "tags", "footnotes", "social", "navigation.top"}
