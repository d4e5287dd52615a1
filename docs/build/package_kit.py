"""What packages for a school's system are made of: their pages, and lists of the site's own files that these need.

A page holds a set alone, or a lesson whose last step is its set.

`exercises.publish.scorm` makes the package, at the terminal from the built site's folder and in the page from
the site's files as they come: the same bytes.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from pathlib import Path

from docs.build.elements import fill_elements
from docs.build.illustrate import draw_places
from docs.build.join import asked_for
from docs.build.modules import EARLY_ACTS, FIRST_STEP, POLICY, element_modules
from docs.build.policy import secure
from docs.build.scripts import (
    NAMES_MODULE,
    preload_type,
)
from docs.build.steps import ELEMENT, add_step
from docs.build.tree import Tag, classes, grown, read, tags, taken, written
from exercises.lessons import LESSONS
from exercises.publish.html import element
from exercises.publish.scorm import ABOUT, HELD, KIT, TITLE, kit_of

PAGE = "page/package-page.js"
SHUT_IN = "page/shut-in.js"
PARTS = ("school-set", "problem-set")
ICON = "assets/mark.svg"
# Of the engine all but the script that starts it while a page of the site still loads.
ENGINE, NOT_NEEDED = "engine", "engine/early.js"
TYPE = "assets/type"
PRACTISE = "practise"


def write_kit(site: Path, lessons: Mapping[str, tuple[str, list[str]]]) -> None:
    """Write the kits into a built site: of a set alone, and of each of `lessons`, as `lesson_page` made it."""
    (site / KIT).parent.mkdir(exist_ok=True)
    sheets = _sheets(read((site / "index.html").read_text("utf-8")))
    common = {
        *sheets,
        POLICY,
        EARLY_ACTS,
        SHUT_IN,
        *asked_for(PAGE),
        *_modules(PARTS),
        *_folders(site),
        ICON,
    }
    _write(site / KIT, written(_page(sheets)), common, lessons=list(LESSONS))
    for key, (page, needed) in lessons.items():
        _write(site / kit_of(key), page, {*common, *needed})


def _write(file: Path, page: str, files: Iterable[str], **more: object) -> None:
    kit = {**more, "page": page, "files": sorted(files)}
    file.write_text(json.dumps(kit, ensure_ascii=False, indent=1), "utf-8")


def _sheets(page: Tag, root: str = "") -> list[str]:
    """The style sheets of a page, in their order, by their addresses from the site's start."""
    links = page.iterfind("head/link[@rel='stylesheet']")
    return [link.get("href").removeprefix(root) for link in links]


def _modules(elements: Iterable[str]) -> set[str]:
    known = element_modules()
    return set(asked_for(*(known[each] for each in elements if each in known)))


def _folders(site: Path) -> list[str]:
    files = [
        file.relative_to(site).as_posix()
        for folder in (ENGINE, TYPE)
        for file in (site / folder).rglob("*")
        if file.is_file()
    ]
    return [name for name in files if name != NOT_NEEDED]


def _page(sheets: list[str], head: Iterable = ()) -> Tag:
    """The page of a set, with places for a title, some words about the set, and the set itself."""
    made = element(
        "html",
        element(
            "head",
            element("meta", charset="utf-8"),
            element("script", src=POLICY, data_root="./"),
            element("script", src=SHUT_IN),
            element("script", src=EARLY_ACTS),
            *head,
            *preload_type(""),
            element("meta", name="viewport", content="width=device-width, initial-scale=1"),
            element("title", TITLE),
            element("link", rel="icon", href=ICON),
            *(element("link", rel="stylesheet", href=sheet) for sheet in sheets),
            element("script", type="module", src=PAGE),
        ),
        element(
            "body",
            element("main", element("div", *_content(), class_="md-content__inner md-typeset"), class_="md-grid dw-package"),
            data_md_color_scheme="default", data_md_color_primary="custom", data_md_color_accent="custom",
        ),
        lang="en",
        data_alone=True,
    )  # fmt: skip
    page = grown(made)
    fill_elements(page, Path(KIT))
    draw_places(page)
    secure(page)
    return page


def _content() -> list:
    return [
        element("h1", TITLE),
        element("noscript", element("p", "Your browser runs no scripts here. To work through this set, allow them for this page.")),
        element(
            "p",
            "The window around this page shuts it in, so nothing can be marked here. ",
            element("a", "Open the set in a window of its own", href="", target="_blank", rel="noopener"),
            ", or show your teacher this line: the frame’s sandbox has to allow scripts and the same origin.",
            hidden=True,
            class_="dw-trouble",
            data_shut_in=True,
        ),
        element("school-set", about=ABOUT, data_held=HELD),
    ]  # fmt: skip


# A lesson with its set.


def lesson_page(page: Tag, root: str) -> tuple[str, list[str]]:
    """The page of a lesson with its set, and which files of the site it needs beside those of a set.

    It is taken out of the site's page of the lesson, of which little is left. `root` leads from there to the site's start.
    """
    lesson = page.find(".//article")
    lesson.find("h1").drop_tree()
    # Words for the site's search, and the addresses of headings.
    for of_the_site in (*lesson.find_class("dw-also"), *lesson.find_class("headerlink")):
        of_the_site.drop_tree()
    # Nothing of the lesson is there before its step: else the page would jump when it wakes.
    made = _page(_sheets(page, root), [element("script", src=FIRST_STEP, data_lesson="")])
    for picture in lesson.find_class("dw-head"):
        made.find(".//h1").addprevious(taken(picture))
    school = made.find(".//school-set")
    _end_with(lesson, school.find(".//*[@data-set]"))
    school.extend(list(lesson))
    _lead_nowhere(school)
    found = {tag.tag for tag in tags(school)}
    return written(made), sorted({FIRST_STEP, NAMES_MODULE, *_modules(found)})


def _end_with(lesson: Tag, place: Tag) -> None:
    """The set is the last step, in place of the link to its page."""
    (steps,) = tags(lesson, ELEMENT)
    for link in steps.find_class("dw-step-end"):
        link.drop_tree()
    add_step(steps, "Practise with your own numbers", PRACTISE, [taken(place)])


def _lead_nowhere(school: Tag) -> None:
    """Only what the page itself holds can be gone to: of other links the words stay, and buttons go."""
    for link in tags(school, "a"):
        if link.get("href", "").startswith("#"):
            continue
        if "dw-button" in classes(link):
            link.drop_tree()
        else:
            link.drop_tag()
