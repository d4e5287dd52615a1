"""The texts of a page."""

from docs.build.texts import texts
from docs.build.tree import read

PAGE = "<p>one <b>two<i>three</i></b><!--a note-->and<code>four <b>five</b></code>six</p>"


def test_texts_come_in_order_without_those_that_are_away():
    (page,) = read(PAGE).body
    assert list(texts(page, lambda tag: tag.tag == "code")) == [
        "one ",
        "two",
        "three",
        "and",
        "six",
    ]
    assert list(texts(page, lambda tag: False)) == page.xpath(".//text()")


def test_the_tag_itself_is_never_away():
    (code,) = read(PAGE).iter("code")
    assert list(texts(code, lambda tag: tag.tag == "code")) == ["four ", "five"]
