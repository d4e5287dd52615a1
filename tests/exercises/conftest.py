"""A folder of hand-ins, as a teacher has it, and a machine without a browser."""

import pytest

from exercises.handin import new_handin, pack, write_handin
from exercises.publish import pdf
from exercises.publish.pdf import browser as find_browser
from tests.exercises.invented_class import SET, gram_for_gram, right, whole_dough


@pytest.fixture(scope="module", autouse=True)
def no_browser():
    """These tests find no browser, so that the quick run needs none."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(pdf, "browser", lambda: None)
        yield


@pytest.fixture
def browser_at_hand(monkeypatch):
    """But one that asks for it does; it is left out of the quick run."""
    monkeypatch.setattr(pdf, "browser", find_browser)


@pytest.fixture
def hand_ins(tmp_path):
    """Five hand-ins, one of them twice, and two files that are none."""
    made = tmp_path / "hand-ins"
    (made / "late").mkdir(parents=True)
    for number, (name, answers) in enumerate(
        {
            "Ada Invented": right,
            "Ben Invented": gram_for_gram,
            "Cy Invented": gram_for_gram,
            "Di Invented": whole_dough,
        }.items()
    ):
        (made / f"{number}.json").write_text(write_handin(SET, name, answers(name)), "utf-8")
    late = pack(new_handin(SET, "ada  INVENTED", gram_for_gram("Ada Invented")))
    (made / "late" / "pasted.txt").write_text("Dear teacher,\n" + late, "utf-8")
    (made / "broken.json").write_text('{"format": "doughw', "utf-8")
    (made / "photo.jpg").write_bytes(b"\xff\xd8\xff\xe0")
    (made / ".hidden").write_text("no matter", "utf-8")
    return made
