"""A page as lxml's tree, and what our own functions made (``exercises.publish.html``) as a piece of one.

The text that follows a tag is the tag's ``tail``, and moves with it; the functions here say where they leave it.
"""

from __future__ import annotations

from collections.abc import Iterable
from xml.etree.ElementTree import Element

from lxml import etree, html
from lxml.html import HtmlElement as Tag

__all__ = ["Tag", "classes", "fill", "grown", "put_first", "read", "tags", "taken", "wrap", "written"]  # fmt: skip

# Of its own accord lxml.html asks a function of Python's for the class of each tag.
_READER = html.HTMLParser()
_READER.set_element_class_lookup(etree.ElementDefaultClassLookup(element=Tag))


def read(text: str) -> Tag:
    """The tree of a page."""
    return html.document_fromstring(text, _READER)


def written(page: Tag) -> str:
    """The HTML text of a page."""
    return f"<!doctype html>\n{etree.tostring(page, encoding='unicode', method='html')}\n"


def tags(under: Tag, *names: str) -> list[Tag]:
    """Every tag under one, or those of some names, in order, as the tree is now."""
    return list(under.iterdescendants(*names or (etree.Element,)))


def classes(tag: Tag) -> list[str]:
    """The names of a tag's classes."""
    return tag.get("class", "").split()


def grown(one: Element) -> Tag:
    """A tag of what our own functions made: it need not be written and read first."""
    tag = _READER.makeelement(one.tag, one.attrib)
    fill(tag, one, one.text)
    return tag


def fill(tag: Tag, made: Iterable[Element], text: str | None = None) -> None:
    """Add what our own functions made to an empty tag, after a text."""
    tag.text = text
    for one in made:
        child = etree.SubElement(tag, one.tag, one.attrib)
        fill(child, one, one.text)
        child.tail = one.tail


def put_first(tag: Tag, new: Tag) -> None:
    """Put a new tag before all that another holds."""
    new.tail, tag.text = tag.text, None
    tag.insert(0, new)


def taken(tag: Tag) -> Tag:
    """A tag taken out of its tree; the text that followed it stays there."""
    tag.drop_tree()
    tag.tail = None
    return tag


def wrap(tag: Tag, around: Tag) -> None:
    """Put a new tag in the place of another, and that into it, last."""
    around.tail, tag.tail = tag.tail, None
    tag.getparent().replace(tag, around)
    around.append(tag)
