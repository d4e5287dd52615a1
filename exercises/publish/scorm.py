"""A problem set as a SCORM package: the page itself, to be played inside a school's system.

The package is a zip: `imsmanifest.xml`, the page with the set in it, and what the page needs. One item, which
starts the page. Two exports of one set give the same bytes.

Sources: ADL, SCORM 1.2, The SCORM Content Aggregation Model (2001); ADL, SCORM 2004 4th Edition, Content
Aggregation Model and Sequencing and Navigation (2009); IMS Content Packaging 1.1.4.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from html import escape
from pathlib import Path
from xml.etree import ElementTree
from xml.etree.ElementTree import Element

from exercises.draws import ProblemSet
from exercises.publish.html import element
from exercises.publish.zipped import zipped

# In the built site: the page, and which of the site's files it needs.
KIT = "package/kit.json"
# What the kit's page has in the places that each package fills.
TITLE, ABOUT, HELD = "{{title}}", "{{about}}", "{{held}}"
MANIFEST = "imsmanifest.xml"
PAGE = "set.html"
PASS_MARKS = range(1, 101)
_PLACES = re.compile("|".join(map(re.escape, (TITLE, ABOUT, HELD))))


class Edition(Enum):
    """The editions of the standard."""

    SCORM_12 = "scorm12"
    SCORM_2004 = "scorm2004"


@dataclass(frozen=True)
class Kit:
    """The page of a package, and the files that it needs by their names in the package."""

    page: str
    files: Mapping[str, bytes]


class NoKit(ValueError):
    """A folder has no kit, or not all of it; the message says what to do."""


def read_kit(folder: Path) -> Kit:
    """The kit in the folder of a built site. Raises NoKit."""
    try:
        listed = json.loads((folder / KIT).read_text("utf-8"))
        files = {name: (folder / name).read_bytes() for name in listed["files"]}
    except OSError as error:
        raise NoKit(
            f"{folder}: the built site is not here, or not all of it ({Path(error.filename).name} is missing). A SCORM "
            "package holds pages of the site. Build it: python -m docs build"
        ) from None
    return Kit(listed["page"], files)


def package(
    problem_set: ProblemSet,
    kit: Kit,
    edition: Edition,
    packed: str = "",
    level: int | None = None,
    pass_mark: int | None = None,
) -> bytes:
    """The zip of a package.

    `packed` are the letters of a teacher's own set (`set_link.pack`), empty for one of ours; `level` is the level that
    is asked, None for the whole set. `pass_mark` is in per cent, None for no mark to pass. Raises ValueError
    for a pass mark out of range.
    """
    if pass_mark is not None and pass_mark not in PASS_MARKS:
        raise ValueError(f"A pass mark is from 1 to 100 per cent, not {pass_mark}.")
    held = {
        "as": edition.value,
        "name": problem_set.key,
        "packed": packed,
        "level": "" if level is None else str(level),
        "pass": pass_mark,
    }
    files = {PAGE: _page(kit.page, problem_set, held).encode(), **kit.files}
    return zipped({MANIFEST: _manifest(problem_set, edition, files).encode(), **files})


def _page(page: str, problem_set: ProblemSet, held: dict[str, object]) -> str:
    texts = {
        TITLE: problem_set.title,
        ABOUT: problem_set.about,
        HELD: json.dumps(held, ensure_ascii=False),
    }
    # All at once: a title may hold what looks like a place.
    return _PLACES.sub(lambda found: escape(texts[found[0]]), page)


# What the two editions call the parts of a manifest: namespaces, the versions' names, and the type of a resource
# that speaks to the system, whose attribute's name changed its capitals.
_NAMES = {
    Edition.SCORM_12: {
        "xmlns": "http://www.imsproject.org/xsd/imscp_rootv1p1p2",
        "xmlns:adlcp": "http://www.adlnet.org/xsd/adlcp_rootv1p2",
    },
    Edition.SCORM_2004: {
        "xmlns": "http://www.imsglobal.org/xsd/imscp_v1p1",
        "xmlns:adlcp": "http://www.adlnet.org/xsd/adlcp_v1p3",
        "xmlns:imsss": "http://www.imsglobal.org/xsd/imsss",
    },
}
_SCHEMA_VERSIONS = {Edition.SCORM_12: "1.2", Edition.SCORM_2004: "2004 4th Edition"}
_SCORM_TYPES = {Edition.SCORM_12: "adlcp:scormtype", Edition.SCORM_2004: "adlcp:scormType"}


def _manifest(problem_set: ProblemSet, edition: Edition, files: Mapping[str, bytes]) -> str:
    """The manifest: one organization of one item, and one resource with every file."""
    resource = element("resource", *(element("file", href=name) for name in files), identifier="page", type="webcontent", href=PAGE)  # fmt: skip
    resource.set(_SCORM_TYPES[edition], "sco")
    item = element("item", element("title", problem_set.title), _sequencing(edition), identifier="item", identifierref="page")  # fmt: skip
    made = element(
        "manifest",
        element(
            "metadata",
            element("schema", "ADL SCORM"),
            element("schemaversion", _SCHEMA_VERSIONS[edition]),
        ),
        element(
            "organizations",
            element("organization", element("title", problem_set.title), item, identifier="course"),
            default="course",
        ),
        element("resources", resource),
        identifier=f"doughwater-{problem_set.key}-{problem_set.content}",
        version=str(problem_set.version),
        **_NAMES[edition],
    )
    ElementTree.indent(made)
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{ElementTree.tostring(made, encoding="unicode")}\n'


def _sequencing(edition: Edition) -> Element | None:
    """In 2004: the page itself says what is complete and what is passed; the system adds nothing of its own.

    Without it a system takes a page that was left as complete (SN, 3.13.1 and 3.13.2).
    """
    if edition is Edition.SCORM_12:
        return None
    controls = Element(
        "imsss:deliveryControls",
        {"completionSetByContent": "true", "objectiveSetByContent": "true"},
    )
    sequencing = Element("imsss:sequencing")
    sequencing.append(controls)
    return sequencing
