"""SCORM packages: their manifests by what the standards say, clause by clause, and the terminal's words.

ADL, SCORM 1.2, The SCORM Content Aggregation Model (2001); ADL, SCORM 2004 4th Edition, Content Aggregation Model
(2009); IMS Content Packaging 1.1.4. Played in a school's system they are in tests/site/test_school.py.
"""

import io
import json
import zipfile
from html.parser import HTMLParser
from xml.etree import ElementTree

import pytest

from exercises import set_link
from exercises.cli import main
from exercises.lessons import LESSONS
from exercises.problems import load, read_set
from exercises.publish.scorm import (
    ABOUT,
    HELD,
    MANIFEST,
    PAGE,
    TITLE,
    Edition,
    Item,
    NoKit,
    course,
    kit_of,
    lesson_of,
    package,
    read_kit,
)
from tests.exercises.set_texts import EVERY_KIND

KIT_PAGE = f'<title>{TITLE}</title><p>{ABOUT}</p><school-set data-held="{HELD}"></school-set>'
# Namespaces and versions as the standards print them: SCORM 1.2 CAM 2.3.2 and 2004 CAM 3.4.
NAMES = {
    Edition.SCORM_12: ("http://www.imsproject.org/xsd/imscp_rootv1p1p2", "http://www.adlnet.org/xsd/adlcp_rootv1p2", "scormtype", "1.2"),
    Edition.SCORM_2004: ("http://www.imsglobal.org/xsd/imscp_v1p1", "http://www.adlnet.org/xsd/adlcp_v1p3", "scormType", "2004 4th Edition"),
}  # fmt: skip
SEQUENCING = "{http://www.imsglobal.org/xsd/imsss}"


@pytest.fixture
def kit(tmp_path):
    """A kit as small as can be; the real one is the site's."""
    (tmp_path / "site" / "package").mkdir(parents=True)
    (tmp_path / "site" / "page").mkdir()
    (tmp_path / "site" / "page" / "x.js").write_text("1;", "utf-8")
    listed = {"page": KIT_PAGE, "files": ["page/x.js"]}
    for name in ("", *LESSONS):
        (tmp_path / "site" / kit_of(name)).write_text(json.dumps(listed), "utf-8")
    return tmp_path / "site"


def opened(made: bytes) -> dict[str, bytes]:
    with zipfile.ZipFile(io.BytesIO(made)) as read:
        return {name: read.read(name) for name in read.namelist()}


class Held(HTMLParser):
    """What a browser reads of a page: its title, and what the element holds."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.texts: list[str] = []
        self.feed(page)

    def handle_starttag(self, tag, attrs):
        if tag == "school-set":
            self.held = json.loads(dict(attrs)["data-held"])
        assert tag != "script"

    def handle_data(self, data):
        self.texts.append(data)


def held(made: bytes) -> dict:
    return Held(opened(made)[PAGE].decode()).held


HELD_BY = {
    "a set": [Item(load("first-swaps"))],
    "a lesson with its set": [Item(load("preferments"), lesson="preferments")],
    "the course": course(),
}


@pytest.mark.parametrize("edition", Edition)
@pytest.mark.parametrize("what", HELD_BY)
def test_the_manifest_is_as_the_standard_wants(kit, edition, what):
    items = HELD_BY[what]
    files = opened(package(items, kit, edition))
    root = ElementTree.fromstring(files[MANIFEST])
    space, adl, type_, version = NAMES[edition]
    # IMS CP 4.2: the manifest is at the package's root, and has these three in this order.
    assert root.tag == f"{{{space}}}manifest"
    assert [each.tag.split("}")[1] for each in root] == ["metadata", "organizations", "resources"]
    assert root.findtext(f".//{{{space}}}schema") == "ADL SCORM"
    assert root.findtext(f".//{{{space}}}schemaversion") == version
    # CAM: the default organization is one of those that are there; an item names a resource.
    organizations = root.find(f"{{{space}}}organizations")
    [organization] = organizations
    assert organizations.get("default") == organization.get("identifier")
    found = organization.findall(f"{{{space}}}item")
    assert [each.findtext(f"{{{space}}}title") for each in found] == [each.title for each in items]
    # IMS CP 4.3: in an organization the title comes first, then items, then what else there is.
    assert organization[0].tag == f"{{{space}}}title"
    resources = {each.get("identifier"): each for each in root.find(f"{{{space}}}resources")}
    listed: list[str] = []
    for one, item in zip(items, found, strict=True):
        page = resources[item.get("identifierref")]
        # CAM: what speaks to the system is a “sco” of web content, and its file is in the package.
        assert page.get(f"{{{adl}}}{type_}") == "sco"
        assert page.get("href") == one.page
        # CAM: what several resources need is one “asset” that they depend on.
        [needed] = page.findall(f"{{{space}}}dependency")
        assert resources[needed.get("identifierref")].get(f"{{{adl}}}{type_}") == "asset"
    for each in resources.values():
        assert each.get("type") == "webcontent"
        listed += [file.get("href") for file in each.findall(f"{{{space}}}file")]
    # CAM: the resources list every file of the package; here each once.
    assert sorted(listed) == sorted(files.keys() - {MANIFEST})
    identifiers = [each.get("identifier") for each in root.iter() if each.get("identifier")]
    assert len(set(identifiers)) == len(identifiers)


def test_in_2004_the_page_says_itself_what_is_complete(kit):
    """SN 3.13.1 and 3.13.2: else the system takes what was only opened as complete and satisfied."""
    items = course()
    root = ElementTree.fromstring(opened(package(items, kit, Edition.SCORM_2004))[MANIFEST])
    own = {"completionSetByContent": "true", "objectiveSetByContent": "true"}
    assert [each.attrib for each in root.iter(f"{SEQUENCING}deliveryControls")] == [own] * len(
        items
    )
    # SN 3.2.1 and 3.2.2: one may choose among the items, and go from one to the next.
    [controls] = root.iter(f"{SEQUENCING}controlMode")
    assert controls.attrib == {"choice": "true", "flow": "true"}
    older = package(items, kit, Edition.SCORM_12)
    assert b"imsss" not in opened(older)[MANIFEST]


def test_each_item_of_the_course_holds_its_own_set(kit):
    files = opened(package(course(), kit, Edition.SCORM_12, 60))
    for key in LESSONS:
        page = Held(files[f"{key}.html"].decode())
        assert (page.held["name"], page.held["pass"]) == (key, 60)
        assert LESSONS[key] in "".join(page.texts)


def test_a_teachers_own_set_can_end_the_lesson_that_it_names(kit, tmp_path, capsys):
    """One that names none is told how."""
    with pytest.raises(ValueError, match="belongs to no lesson"):
        lesson_of(read_set(EVERY_KIND, "monday.yml"))
    mine, out = tmp_path / "monday.yml", tmp_path / "x.zip"
    mine.write_text(f"lesson: preferments\n{EVERY_KIND}", "utf-8")
    export = ["export", str(mine), "--lesson", "--site", str(kit), "--out", str(out)]
    assert main([*export, "--as", "scorm12"]) == 0
    page = Held(opened(out.read_bytes())["preferments.html"].decode())
    assert set_link.read_packed(page.held["packed"]).key == "monday"
    assert LESSONS["preferments"] in "".join(page.texts)


@pytest.mark.parametrize("edition", Edition)
def test_two_packages_of_one_set_are_the_same_bytes(kit, edition):
    one, other = (package([Item(load("first-swaps"))], kit, edition) for _ in range(2))
    assert one == other


def test_the_page_holds_the_set_and_the_pass_mark(kit):
    made = package([Item(load("first-swaps"), "", 2)], kit, Edition.SCORM_12, 60)
    assert held(made) == {
        "as": "scorm12",
        "name": "first-swaps",
        "packed": "",
        "level": "2",
        "pass": 60,
    }


def test_a_set_with_signs_of_markup_stays_text(kit):
    """Titles that hold markup, or what looks like a place in the page."""
    title = f'<script>alert(1)</script> & {ABOUT} "{HELD}"'
    text = EVERY_KIND.replace("problems:", f"about: {json.dumps(title)}\nproblems:", 1)
    given = set_link.to_give(text, "monday.yml")
    problem_set = read_set(given, "monday.yml")
    page = opened(package([Item(problem_set, set_link.pack(given))], kit, Edition.SCORM_12))[PAGE]
    read = Held(page.decode())
    assert title in "".join(read.texts)
    assert set_link.read_packed(read.held["packed"]).content == problem_set.content


@pytest.mark.parametrize("mark", [0, 101, -5])
def test_a_pass_mark_out_of_range_is_refused(kit, mark):
    with pytest.raises(ValueError, match="from 1 to 100"):
        package([Item(load("first-swaps"))], kit, Edition.SCORM_12, mark)


def test_without_the_built_site_one_is_told_to_build_it(kit, tmp_path):
    with pytest.raises(NoKit, match="docs build"):
        read_kit(tmp_path / "nowhere")
    (kit / "page" / "x.js").unlink()
    with pytest.raises(NoKit, match=r"x\.js"):
        read_kit(kit)


@pytest.mark.parametrize("edition", Edition)
def test_the_terminal_writes_ours_and_a_teachers_own(kit, edition, tmp_path, capsys):
    mine, out = tmp_path / "monday.yml", tmp_path / "x.zip"
    mine.write_text(EVERY_KIND, "utf-8")
    export = ["export", "--as", edition.value, "--site", str(kit), "--out", str(out)]
    assert main([*export, "first-swaps", "--level", "1", "--pass", "70"]) == 0
    ours = load("first-swaps").of_level(1)
    assert out.read_bytes() == package([Item(ours, "", 1)], kit, edition, 70)
    assert main([*export, str(mine)]) == 0
    assert set_link.read_packed(held(out.read_bytes())["packed"]).key == "monday"
    assert "Import it" in capsys.readouterr().out
    assert main([*export, "course", "--pass", "70"]) == 0
    assert out.read_bytes() == package(course(), kit, edition, 70)


@pytest.mark.parametrize(
    ("options", "says"),
    [
        (["--as", "scorm12", "--draws", "3"], "are for QTI"),
        (["--as", "scorm12", "--answer-only"], "are for QTI"),
        (["--as", "scorm2004", "--pass", "0"], "from 1 to 100"),
        (["--pass", "50"], "--pass is for SCORM"),
        (["--as", "scorm12", "--site", "nowhere"], "docs build"),
        (["--as", "qti21", "--lesson"], "add --as scorm12"),
        (["--lesson"], "add --as scorm12"),
    ],
)
def test_what_does_not_go_together_is_told(kit, options, says, tmp_path, capsys):
    export = ["export", "first-swaps", "--out", str(tmp_path / "x.zip"), "--site", str(kit)]
    assert main([*export, *options]) == 1
    assert says in capsys.readouterr().err
    assert not (tmp_path / "x.zip").exists()
