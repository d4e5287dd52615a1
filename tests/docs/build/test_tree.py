"""Pages as trees, beside the reader that they are quicker than: Beautiful Soup's own, on Python's html.parser."""

import pytest
from bs4 import BeautifulSoup, NavigableString, Tag

from docs.build.tree import grown, read, tags, written
from exercises.publish.html import element, write

PAGES = [
    "<!doctype html>\n<html lang=en><head><meta charset=\"utf-8\"><title>A &amp; B</title></head><body>x</body></html>",
    "<p class=' a  b\n c ' id=one hidden data-x='say \"so\"'>five &lt; six &#8211; caf&eacute; &nbsp;</p>",
    "<ul>\n  <li>one\n  <li>two</b></ul>   <p>\n\n</p> <p> \t </p>tail",
    "<pre>  \n two </pre><textarea>\n\n x &amp; y</textarea><code> </code>",
    "<script>if (a < b && c) '</p>'</script><style>p > a { content: '<b>' }</style><!-- say <b> --><br><img src=a.png alt=\"\"/>",
    "<svg viewBox='0 0 1 1'><path d='M0 0'/></svg><a rel='next prev' href='?a=1&amp;b=2'>on</a><input value=\"a'b\">",
    "1 < 2 and 3 > 2 & so on",
    "",
]  # fmt: skip


def told(tree: Tag) -> list[tuple]:
    """Each piece of a tree with its kind, its parent's name and its neighbours."""
    return [
        (
            type(one),
            one.attrs if isinstance(one, Tag) else str(one),
            one.name,
            one.parent.name,
            one.next_sibling,
            one.previous_sibling,
        )
        for one in tree.descendants
    ]


@pytest.mark.parametrize("page", PAGES)
def test_a_page_is_read_and_written_as_beautiful_soup_does(page):
    wanted, found = BeautifulSoup(page, "html.parser"), read(page)
    assert told(found) == told(wanted)
    assert written(found) == written(wanted) == str(wanted)


def test_a_tree_can_be_changed_as_any_other():
    tree = read("<div><p>one</p><p>two</p></div>")
    first, second = tree.find_all("p")
    second.insert_after(first.extract())
    second.append(NavigableString(" & more"))
    first.wrap(tree.new_tag("section"))
    assert written(tree) == "<div><p>two &amp; more</p><section><p>one</p></section></div>"
    assert [tag.name for tag in tags(tree)] == ["div", "p", "section", "p"]


def test_what_our_functions_make_is_the_tree_of_its_text():
    made = element(
        "svg",
        element("title", "a < b & c"),
        element("br"),
        " 500 g ",
        viewBox="0 0 1 1",
        class_="a b",
    )
    box = element("textarea", "\n x <b>\n")
    text = write(made, box)
    assert told(grown([made, box])) == told(BeautifulSoup(text, "html.parser"))
