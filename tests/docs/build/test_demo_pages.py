"""The invented class's pages: each stands alone, says that it is invented, and leads back."""

from bs4 import BeautifulSoup

from docs.build.demo_pages import demo_pages


def test_the_demo_pages_stand_alone():
    pages = demo_pages()
    assert list(pages) == ["report", "worksheet", "key", "put-in-and-found"]
    for text in pages.values():
        soup = BeautifulSoup(text, "html.parser")
        assert soup.find(["script", "img", "link", "iframe"]) is None
        policy = soup.find("meta", attrs={"http-equiv": "Content-Security-Policy"})["content"]
        assert policy.startswith("default-src 'none'")
        assert "invented" in soup.get_text()
        assert soup.select_one(".way-back a")["href"] == "../teachers/demo-class/"
