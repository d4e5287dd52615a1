"""A problem set, a lesson or the course as a SCORM package: the pages themselves, played inside a school's system.

The package is a zip: `imsmanifest.xml`, a page for each item, and once what all pages need. An item is one set, alone
or as the last step of its lesson; the course has an item a lesson. Two exports of the same give the same bytes.

Sources: ADL, SCORM 1.2, The SCORM Content Aggregation Model (2001); ADL, SCORM 2004 4th Edition, Content
Aggregation Model and Sequencing and Navigation (2009); IMS Content Packaging 1.1.4.
"""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import Enum
from html import escape
from pathlib import Path
from xml.etree import ElementTree
from xml.etree.ElementTree import Element

from exercises import problems
from exercises.draws import ProblemSet
from exercises.lessons import LESSONS
from exercises.publish.html import element
from exercises.publish.zipped import zipped

# In the built site: the page of a set, and which of the site's files it needs. Each lesson has such a file, too.
KIT = "package/kit.json"
# What the kit's page has in the places that each package fills.
TITLE, ABOUT, HELD = "{{title}}", "{{about}}", "{{held}}"
MANIFEST = "imsmanifest.xml"
PAGE = "set.html"
# What the files that all pages need are called together in the manifest.
SHARED = "shared"
COURSE = "Hydration and substitution: the course"
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


def kit_of(lesson: str) -> str:
    """Where the kit of a lesson with its set is in the built site; of a set alone where none is named."""
    return f"package/{lesson}.json" if lesson else KIT


def read_kit(folder: Path, lesson: str = "") -> Kit:
    """The kit in the folder of a built site: of a set alone, or of a lesson with its set. Raises NoKit."""
    try:
        listed = json.loads((folder / kit_of(lesson)).read_text("utf-8"))
        files = {name: (folder / name).read_bytes() for name in listed["files"]}
    except OSError as error:
        raise NoKit(
            f"{folder}: the built site is not here, or not all of it ({Path(error.filename).name} is missing). A SCORM "
            "package holds pages of the site. Build it: python -m docs build"
        ) from None
    return Kit(listed["page"], files)


@dataclass(frozen=True)
class Item:
    """What a student opens and is marked for by itself.

    `packed` are the letters of a teacher's own set (`set_link.pack`), empty for one of ours; `level` is the level that
    is asked, None for the whole set; `lesson` the lesson that the set is the last step of, empty for a set alone.
    """

    problem_set: ProblemSet
    packed: str = ""
    level: int | None = None
    lesson: str = ""

    @property
    def title(self) -> str:
        return LESSONS[self.lesson] if self.lesson else self.problem_set.title

    @property
    def page(self) -> str:
        return f"{self.lesson}.html" if self.lesson else PAGE


def lesson_of(problem_set: ProblemSet) -> str:
    """The lesson whose last step a set can be. Raises ValueError where it names none."""
    if problem_set.lesson not in LESSONS:
        raise ValueError(
            f"“{problem_set.title}” belongs to no lesson. Take the set alone; or, in a set of your own, name its "
            f"lesson at the top, as in “lesson: {next(iter(LESSONS))}”."
        )
    return problem_set.lesson


def course() -> list[Item]:
    """Each lesson with its set, in order."""
    return [Item(problems.load(key), lesson=key) for key in LESSONS]


def package(
    items: Sequence[Item], folder: Path, edition: Edition, pass_mark: int | None = None
) -> bytes:
    """The zip of a package, from the folder of a built site.

    `pass_mark` is in per cent, None for no mark to pass. Raises ValueError for a pass mark out of range, and NoKit.
    """
    if pass_mark is not None and pass_mark not in PASS_MARKS:
        raise ValueError(f"A pass mark is from 1 to 100 per cent, not {pass_mark}.")
    kits = [read_kit(folder, each.lesson) for each in items]
    pages = {
        each.page: _page(kit.page, each, edition, pass_mark).encode()
        for each, kit in zip(items, kits, strict=True)
    }
    shared = {name: content for kit in kits for name, content in kit.files.items()}
    files = {**pages, **dict(sorted(shared.items()))}
    return zipped({MANIFEST: _manifest(items, edition, pages, shared).encode(), **files})


def _page(page: str, item: Item, edition: Edition, pass_mark: int | None) -> str:
    held = {
        "as": edition.value,
        "name": item.problem_set.key,
        "packed": item.packed,
        "level": "" if item.level is None else str(item.level),
        "pass": pass_mark,
    }
    texts = {
        TITLE: item.title,
        ABOUT: item.problem_set.about,
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


def _manifest(
    items: Sequence[Item], edition: Edition, pages: Mapping[str, bytes], shared: Mapping[str, bytes]
) -> str:
    """The manifest: one organization, an item for each page, and what the pages share as a resource they depend on."""
    first, more = items[0], len(items) > 1
    title = COURSE if more else first.title
    name = "course" if more else first.lesson or first.problem_set.key
    # A lesson's text can change where its set does not.
    mark = first.problem_set.content if not (more or first.lesson) else _mark(pages)
    made = element(
        "manifest",
        element(
            "metadata",
            element("schema", "ADL SCORM"),
            element("schemaversion", _SCHEMA_VERSIONS[edition]),
        ),
        element(
            "organizations",
            element(
                "organization",
                element("title", title),
                *(_item(each, edition) for each in items),
                _sequencing(edition, "controlMode", choice="true", flow="true"),
                identifier="course",
            ),
            default="course",
        ),
        element(
            "resources",
            *(_resource(edition, "sco", f"page-{_place(each)}", [each.page], SHARED) for each in items),
            _resource(edition, "asset", SHARED, sorted(shared)),
        ),
        identifier=f"doughwater-{name}-{mark}",
        version=str(1 if more else first.problem_set.version),
        **_NAMES[edition],
    )  # fmt: skip
    ElementTree.indent(made)
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{ElementTree.tostring(made, encoding="unicode")}\n'


def _mark(pages: Mapping[str, bytes]) -> str:
    return hashlib.sha256(b"".join(pages.values())).hexdigest()[:12]


def _place(item: Item) -> str:
    return item.lesson or "set"


def _item(item: Item, edition: Edition) -> Element:
    place = _place(item)
    # The page itself says what is complete and what is passed; the system adds nothing of its own. Without it a
    # system takes a page that was left as complete (SN, 3.13.1 and 3.13.2).
    own = _sequencing(edition, "deliveryControls", completionSetByContent="true", objectiveSetByContent="true")  # fmt: skip
    return element("item", element("title", item.title), own, identifier=f"item-{place}", identifierref=f"page-{place}")  # fmt: skip


def _resource(
    edition: Edition, type_: str, identifier: str, names: Sequence[str], needs: str = ""
) -> Element:
    files = (element("file", href=name) for name in names)
    needed = element("dependency", identifierref=needs) if needs else None
    made = element("resource", *files, needed, identifier=identifier, type="webcontent")
    made.set(_SCORM_TYPES[edition], type_)
    if type_ == "sco":
        made.set("href", names[0])
    return made


def _sequencing(edition: Edition, controls: str, **attributes: str) -> Element | None:
    """In 2004: what an item or all of them say of how they are played; 1.2 has no word for it.

    Without flow no system may go from one item to the next, or begin (SN, 3.2.2).
    """
    if edition is Edition.SCORM_12:
        return None
    sequencing = Element("imsss:sequencing")
    sequencing.append(Element(f"imsss:{controls}", attributes))
    return sequencing
