"""A page's tree, and what our own functions made as a piece of one."""

from html.parser import HTMLParser

from docs.build.tree import fill, grown, put_first, read, tags, taken, wrap, written
from exercises.publish.html import element, write
from tests.docs.build.bodies import body


class Told(HTMLParser):
    """Each piece of a page as another reader finds it."""

    def __init__(self, text):
        super().__init__()
        self.found = []
        self.feed(text)
        self.close()

    def handle_starttag(self, tag, attrs):
        self.found.append((tag, {name: value or "" for name, value in attrs}))

    def handle_endtag(self, tag):
        self.found.append(f"end of {tag}")

    def handle_data(self, data):
        self.found.append(data)

    def handle_comment(self, data):
        self.found.append(f"comment {data}")


def told(text):
    return Told(text).found


PAGE = """<!doctype html>
<html lang="en"><head><meta charset="utf-8"><script>if (1 < 2 && "</p>") {}</script></head><body>
<!--menu--><liquid-swap flour="500 g" hidden></liquid-swap><p>a &lt; b &amp; c\u00a0\u2212 <br>d</p>
<pre>
 x</pre><textarea>
y &lt;b&gt;</textarea><svg viewbox="0 0 1 1"><path d="M0 0"></path></svg><input value='say "so"' disabled>
<details open><summary>s</summary><p>t</p></details><a href="../a/?b=1&amp;c=2#d">e</a>
</body></html>
"""


def test_a_page_is_written_as_it_was_read():
    wanted = [one for one in told(PAGE) if str(one).strip()]
    assert [one for one in told(written(read(PAGE))) if str(one).strip()] == wanted
    # What is written once is written the same again.
    assert written(read(written(read(PAGE)))) == written(read(PAGE))


def test_what_our_functions_make_is_the_tree_of_its_text():
    made = element(
        "svg",
        element("title", "a < b & c"),
        element("br"),
        " 500 g ",
        viewBox="0 0 1 1",
        class_="a b",
        data_x='say "so"',
    )
    made.tail = "after"
    box = element("textarea", "\n x <b>\n")
    page = read("<body><div></div></body>")
    fill(page.body[0], [made, box], "before")
    assert told(body(page)) == told(f"<div>before{write(made, box)}</div>")
    assert told(written(grown(box))) == told(f"<!doctype html>\n{write(box)}\n")


def test_tags_come_in_order_however_the_tree_was_changed():
    tree = read("<div><p>one</p><!-- a note --><p>two</p></div>")
    first, second = tags(tree, "p")
    second.addnext(taken(first))
    wrap(first, grown(element("section")))
    assert [tag.tag for tag in tags(tree.body)] == ["div", "p", "section", "p"]


def test_the_text_after_a_tag_stays_where_it_is():
    tree = read("<body><div>one<p>two</p>three<b>four</b>five</div></body>")
    put_first(tree.body[0], grown(element("i", "nought")))
    assert body(tree) == "<div><i>nought</i>one<p>two</p>three<b>four</b>five</div>"
    paragraph, bold = tags(tree, "p", "b")
    wrap(bold, grown(element("details", element("summary", "s"))))
    assert body(tree).endswith("three<details><summary>s</summary><b>four</b></details>five</div>")
    tree.body.append(taken(paragraph))
    assert body(tree).startswith("<div><i>nought</i>onethree<details>")
    assert body(tree).endswith("five</div><p>two</p>")
