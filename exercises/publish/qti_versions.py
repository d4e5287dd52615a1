"""The versions of QTI: how each spells what an item, a test and a package say.

All is described once, in the names of QTI 3.0. Version 2.1 has the same elements and rules under other
names (`base-type` is `baseType`), and lacks a few that only help to show an item.

Sources: 1EdTech, Question and Test Interoperability 3.0 (final specification, 1 May 2022) and 2.1 (final
specification, 31 August 2012); IMS Content Packaging 1.1.4 (2004), whose namespace the packages of 2.1 have.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from xml.etree import ElementTree
from xml.etree.ElementTree import Element

_INSTANCE = "http://www.w3.org/2001/XMLSchema-instance"
# How many levels of a file are in lines of their own: indented rules would double a long item.
_DEPTH = 2


@dataclass(frozen=True)
class Namespace:
    """A namespace, and where its schema is published."""

    name: str
    schema: str


@dataclass(frozen=True)
class Version:
    """One version: its key at the terminal and on the desk, and how its files are written.

    `profile` is what a manifest says of itself, schema and version; `resources` how its kinds of
    resource end.
    """

    key: str
    name: str
    items: Namespace
    packages: Namespace
    profile: tuple[str, str]
    resources: str
    spelled: Callable[[Element], Element]

    def item(self, root: Element) -> str:
        """The file of an item or a test."""
        return _document(self.spelled(root), self.items)

    def manifest(self, root: Element) -> str:
        """The file of a manifest."""
        return _document(root, self.packages)


def _in_2_1(part: Element) -> Element:
    """A part of an item in the names of QTI 2.1."""
    made = Element(_camel(part.tag.removeprefix("qti-")))
    made.text, made.tail = part.text, part.tail
    made.attrib = {_camel(name): text for name, text in part.items() if not _is_new(name)}
    for one in part:
        made.extend(map(_in_2_1, one if one.tag == "qti-content-body" else [one]))
    return made


def _camel(name: str) -> str:
    return re.sub("-(.)", lambda found: found[1].upper(), name)


def _is_new(attribute: str) -> bool:
    """Whether an attribute came with QTI 3.0: what a box says, and the shared words for its looks."""
    return attribute == "class" or attribute.startswith("data-")


QTI_3 = Version(
    "qti3",
    "QTI 3.0",
    Namespace(
        "http://www.imsglobal.org/xsd/imsqtiasi_v3p0",
        "https://purl.imsglobal.org/spec/qti/v3p0/schema/xsd/imsqti_asiv3p0_v1p0.xsd",
    ),
    Namespace(
        "http://www.imsglobal.org/xsd/qti/qtiv3p0/imscp_v1p1",
        "https://purl.imsglobal.org/spec/qti/v3p0/schema/xsd/imsqtiv3p0_imscpv1p2_v1p0.xsd",
    ),
    ("QTI Package", "3.0.0"),
    "xmlv3p0",
    lambda root: root,
)
QTI_21 = Version(
    "qti21",
    "QTI 2.1",
    Namespace(
        "http://www.imsglobal.org/xsd/imsqti_v2p1",
        "http://www.imsglobal.org/xsd/qti/qtiv2p1/imsqti_v2p1p2.xsd",
    ),
    Namespace(
        "http://www.imsglobal.org/xsd/imscp_v1p1",
        "http://www.imsglobal.org/xsd/qti/qtiv2p1/qtiv2p1_imscpv1p2_v1p0.xsd",
    ),
    ("QTIv2.1 Package", "1.0.0"),
    "xmlv2p1",
    _in_2_1,
)
VERSIONS = {version.key: version for version in (QTI_21, QTI_3)}
# The one that more systems take.
USUAL = QTI_21


def _document(root: Element, namespace: Namespace) -> str:
    root.attrib = {
        "xmlns": namespace.name,
        "xmlns:xsi": _INSTANCE,
        "xsi:schemaLocation": f"{namespace.name} {namespace.schema}",
        **root.attrib,
    }
    _in_lines(root, _DEPTH)
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        + ElementTree.tostring(root, encoding="unicode", short_empty_elements=True)
        + "\n"
    )


def _in_lines(root: Element, depth: int) -> None:
    """Each part on a line, down to that depth; a rule or a paragraph is one line."""
    if not depth or (root.text or "").strip():
        return
    for one in root:
        one.tail = "\n"
        _in_lines(one, depth - 1)
    if len(root):
        root.text = "\n"
