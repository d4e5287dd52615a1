"""What our own functions made, as a piece of a page's tree."""

from bs4 import Tag

from docs.build.tree import grown, read, tags
from exercises.publish.html import element, write


def told(tree: Tag) -> list[tuple]:
    """Each piece of a tree with its kind, its words or attributes, and its parent's name."""
    return [
        (type(one), one.attrs if isinstance(one, Tag) else str(one), one.name, one.parent.name)
        for one in tree.descendants
    ]


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
    box = element("textarea", "\n x <b>\n")
    text = write(made, box)
    assert told(grown([made, box])) == told(read(text))
    assert str(grown([made, box])) == str(read(text))


def test_tags_come_in_order_however_the_tree_was_changed():
    tree = read("<div><p>one</p><p>two</p></div>")
    first, second = tree.find_all("p")
    second.insert_after(first.extract())
    first.wrap(tree.new_tag("section"))
    assert [tag.name for tag in tags(tree)] == ["div", "p", "section", "p"]
