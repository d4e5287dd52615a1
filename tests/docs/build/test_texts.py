"""The texts of a page."""

from bs4 import BeautifulSoup

from docs.build.texts import texts

PAGE = "<p>one <b>two<i>three</i></b><code>four <b>five</b></code>six</p>"


def test_texts_come_in_order_without_those_that_are_away():
    soup = BeautifulSoup(PAGE, "html.parser")
    assert list(texts(soup, lambda tag: tag.name == "code")) == ["one ", "two", "three", "six"]
    assert list(texts(soup, lambda tag: False)) == list(soup.find_all(string=True))


def test_the_tag_itself_is_never_away():
    code = BeautifulSoup(PAGE, "html.parser").code
    assert list(texts(code, lambda tag: tag.name == "code")) == ["four ", "five"]
