"""QTI 2.1: what every file of a package has, and that it says what QTI 3.0 says.

Checked against the standard: IMS Global, Question and Test Interoperability 2.1, final specification (2012):
the information model of items and tests, and IMS Content Packaging 1.1.4. The schemas are in no package
registry; the names and attributes below are from memory of them, and are what a converter made elsewhere reads
(`tests/site/test_qti_player.py` brings these items back to 3.0 with it).
"""

from copy import deepcopy
from xml.etree import ElementTree

import pytest

from exercises.problems import load
from exercises.publish.qti import package
from exercises.publish.qti_versions import QTI_3, QTI_21
from tests.exercises.publish.test_qti import described, files_of, item_of

ITEM = "{http://www.imsglobal.org/xsd/imsqti_v2p1}"
MANIFEST = "{http://www.imsglobal.org/xsd/imscp_v1p1}"
LANGUAGE = "{http://www.w3.org/XML/1998/namespace}lang"
SCHEMA = "{http://www.w3.org/2001/XMLSchema-instance}schemaLocation"

# The elements of QTI 2.1 that a package uses, with the attributes that each takes; those it must have first.
ATTRIBUTES = {
    "assessmentItem": (("identifier", "title", "adaptive", "timeDependent"), (LANGUAGE, SCHEMA)),
    "assessmentTest": (("identifier", "title"), (LANGUAGE, SCHEMA)),
    "responseDeclaration": (("identifier", "cardinality", "baseType"), ()),
    "outcomeDeclaration": (
        ("identifier", "cardinality", "baseType"),
        ("normalMinimum", "normalMaximum"),
    ),
    "textEntryInteraction": (("responseIdentifier",), ("expectedLength", "patternMask")),
    "choiceInteraction": (("responseIdentifier", "shuffle", "maxChoices"), ()),
    "orderInteraction": (("responseIdentifier", "shuffle"), ()),
    "simpleChoice": (("identifier",), ()),
    "feedbackBlock": (("outcomeIdentifier", "identifier", "showHide"), ()),
    "setOutcomeValue": (("identifier",), ()),
    "variable": (("identifier",), ()),
    "baseValue": (("baseType",), ()),
    "index": (("n",), ()),
    "testPart": (("identifier", "navigationMode", "submissionMode"), ()),
    "assessmentSection": (("identifier", "title", "visible"), ()),
    "selection": (("select",), ()),
    "assessmentItemRef": (("identifier", "href"), ()),
    "itemSessionControl": ((), ("maxAttempts", "showFeedback")),
    "testVariables": (("variableIdentifier", "baseType"), ()),
}
PLAIN = (
    "and correctResponse defaultValue divide gt isNull itemBody lt lte match max member min multiple not or "
    "ordered outcomeProcessing p product prompt responseCondition responseElse responseElseIf responseIf "
    "responseProcessing round subtract sum value"
)
ATTRIBUTES |= dict.fromkeys(PLAIN.split(), ((), ()))


def holds_to_the_standard(root) -> None:
    for one in root.iter():
        needed, taken = ATTRIBUTES[one.tag.removeprefix(ITEM)]
        assert set(needed) <= set(one.attrib) <= {*needed, *taken}, one.tag


@pytest.mark.slow
def test_an_item_is_the_same_in_both_versions(variant):
    older = ElementTree.fromstring(QTI_21.item(deepcopy(described(variant, answer_only=False))))
    holds_to_the_standard(older)
    newer = item_of(variant)
    assert "".join(older.itertext()).split() == "".join(newer.itertext()).split()
    rules = newer.find("{*}qti-response-processing"), older.find(f"{ITEM}responseProcessing")
    newest, oldest = ([plainly(one.tag) for one in root.iter()] for root in rules)
    assert newest == oldest


def plainly(tag: str) -> str:
    """The name of an element, however a version spells it."""
    return tag.split("}")[1].removeprefix("qti-").replace("-", "").lower()


def test_the_package_of_2_1_has_what_the_standard_asks_for():
    files = files_of(package(load("first-swaps"), 2, version=QTI_21))
    assert files.keys() == files_of(package(load("first-swaps"), 2, version=QTI_3)).keys()
    manifest = ElementTree.fromstring(files.pop("imsmanifest.xml"))
    assert manifest.tag == f"{MANIFEST}manifest"
    metadata = [one.text for one in manifest.find(f"{MANIFEST}metadata")]
    assert metadata == ["QTIv2.1 Package", "1.0.0"]
    # Content Packaging: the parts of a manifest, in this order.
    assert [one.tag for one in manifest] == [
        f"{MANIFEST}{name}" for name in ("metadata", "organizations", "resources")
    ]
    resources = {one.get("href"): one for one in manifest.iter(f"{MANIFEST}resource")}
    assert resources.keys() == files.keys()
    for href, resource in resources.items():
        root = ElementTree.fromstring(files[href])
        holds_to_the_standard(root)
        kind = {"assessmentTest": "test", "assessmentItem": "item"}[root.tag.removeprefix(ITEM)]
        assert resource.get("type") == f"imsqti_{kind}_xmlv2p1"
        assert [one.get("href") for one in resource.iter(f"{MANIFEST}file")] == [href]
    needed = [one.get("identifierref") for one in manifest.iter(f"{MANIFEST}dependency")]
    items = [one for one in resources.values() if one.get("type") == "imsqti_item_xmlv2p1"]
    assert sorted(needed) == sorted(one.get("identifier") for one in items)
