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
from exercises.problems import load, read_set
from exercises.publish.scorm import (
    ABOUT,
    HELD,
    KIT,
    MANIFEST,
    PAGE,
    TITLE,
    Edition,
    NoKit,
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
    (tmp_path / "site" / KIT).write_text(json.dumps(listed), "utf-8")
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


@pytest.mark.parametrize("edition", Edition)
def test_the_manifest_is_as_the_standard_wants(kit, edition):
    problem_set = load("first-swaps")
    files = opened(package(problem_set, read_kit(kit), edition))
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
    [item] = organization.findall(f"{{{space}}}item")
    assert item.findtext(f"{{{space}}}title") == problem_set.title
    [resource] = root.find(f"{{{space}}}resources")
    assert item.get("identifierref") == resource.get("identifier")
    # CAM: what speaks to the system is a “sco” of web content, and its file is in the package.
    assert resource.get(f"{{{adl}}}{type_}") == "sco"
    assert resource.get("type") == "webcontent"
    assert resource.get("href") == PAGE
    # CAM: a resource lists every file that it needs.
    listed = {each.get("href") for each in resource}
    assert listed == files.keys() - {MANIFEST}
    identifiers = [each.get("identifier") for each in root.iter() if each.get("identifier")]
    assert len(set(identifiers)) == len(identifiers)


def test_in_2004_the_page_says_itself_what_is_complete(kit):
    """SN 3.13.1 and 3.13.2: else the system takes what was only opened as complete and satisfied."""
    made = package(load("first-swaps"), read_kit(kit), Edition.SCORM_2004)
    root = ElementTree.fromstring(opened(made)[MANIFEST])
    [controls] = root.iter(f"{SEQUENCING}deliveryControls")
    assert controls.attrib == {"completionSetByContent": "true", "objectiveSetByContent": "true"}
    older = package(load("first-swaps"), read_kit(kit), Edition.SCORM_12)
    assert b"imsss" not in opened(older)[MANIFEST]


@pytest.mark.parametrize("edition", Edition)
def test_two_packages_of_one_set_are_the_same_bytes(kit, edition):
    one, other = (package(load("first-swaps"), read_kit(kit), edition) for _ in range(2))
    assert one == other


def test_the_page_holds_the_set_and_the_pass_mark(kit):
    made = package(load("first-swaps"), read_kit(kit), Edition.SCORM_12, "", 2, 60)
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
    page = opened(package(problem_set, read_kit(kit), Edition.SCORM_12, set_link.pack(given)))[PAGE]
    read = Held(page.decode())
    assert title in "".join(read.texts)
    assert set_link.read_packed(read.held["packed"]).content == problem_set.content


@pytest.mark.parametrize("mark", [0, 101, -5])
def test_a_pass_mark_out_of_range_is_refused(kit, mark):
    with pytest.raises(ValueError, match="from 1 to 100"):
        package(load("first-swaps"), read_kit(kit), Edition.SCORM_12, pass_mark=mark)


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
    assert out.read_bytes() == package(ours, read_kit(kit), edition, "", 1, 70)
    assert main([*export, str(mine)]) == 0
    assert set_link.read_packed(held(out.read_bytes())["packed"]).key == "monday"
    assert "Import it" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("options", "says"),
    [
        (["--as", "scorm12", "--draws", "3"], "are for QTI"),
        (["--as", "scorm12", "--answer-only"], "are for QTI"),
        (["--as", "scorm2004", "--pass", "0"], "from 1 to 100"),
        (["--pass", "50"], "--pass is for SCORM"),
        (["--as", "scorm12", "--site", "nowhere"], "docs build"),
    ],
)
def test_what_does_not_go_together_is_told(kit, options, says, tmp_path, capsys):
    export = ["export", "first-swaps", "--out", str(tmp_path / "x.zip"), "--site", str(kit)]
    assert main([*export, *options]) == 1
    assert says in capsys.readouterr().err
    assert not (tmp_path / "x.zip").exists()
