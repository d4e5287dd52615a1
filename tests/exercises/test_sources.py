"""What a school's system gives is read as it lies: a zip, a zip in it, tables and workbooks, and what a computer leaves."""

import io
import zipfile

import pytest
from hypothesis import given
from hypothesis import strategies as st

from exercises import sources
from exercises.cli import main
from exercises.collect import Entry, collect
from exercises.handin import END, new_handin, pack, write_handin
from exercises.sources import Refusal, Source, advice
from tests.exercises.invented_class import KEY, SET, csv_of, marked, right
from tests.exercises.test_workbook import ods, xlsx
from tests.hostile import PATHS


def zipped(files: dict[str, bytes | str], method: int = zipfile.ZIP_DEFLATED) -> bytes:
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w", method) as bundle:
        for name, content in files.items():
            bundle.writestr(name, content)
    return made.getvalue()


def pasted(name: str) -> str:
    return pack(new_handin(SET, name, right(name)))


LITTER = ("Thumbs.db", "desktop.ini", "~$work.docx", "__MACOSX/a.json", ".DS_Store", "._a.json")


def test_all_submissions_in_one_zip_are_marked(tmp_path):
    """A folder a student, web text, a file, a text document, tables, and a zip that one student made."""
    online = f"<html><body><p>Here it is.</p><p>{pasted('Ben Sample').replace('<', '&lt;')}</p></body></html>"
    document = zipped({"word/document.xml": f"<w><p><t>{pasted('Cy Sample').replace('<', '&lt;')}</t></p></w>"})  # fmt: skip
    table = csv_of([("Di Sample", right("Di Sample"))], ";", ",").encode("cp1252")
    path = tmp_path / "all.zip"
    path.write_bytes(
        zipped(
            {
                "Ada Sample_17/files/ada.json": write_handin(SET, "Ada Sample", right("Ada Sample")),
                "Ben Sample_18/text.html": online,
                "Cy Sample_19/work.docx": document,
                "table.csv": table,
                "Eve Sample_20/mine.zip": zipped({"x/eve.json": write_handin(SET, "Eve Sample", right("Eve Sample"))}),
                "Fay Sample 21_late/f.json": write_handin(SET, "", right("")),
                "Gil_22/photo.jpg": b"\xff\xd8\xff\xe0" + bytes(200),
                **dict.fromkeys(LITTER, b"x"),
            }
        )
    )  # fmt: skip
    book, students = marked(path)
    assert {s.entry.student: s.marks for s in students} == {f"{name} Sample": 19 for name in ("Ada", "Ben", "Cy", "Di", "Eve", "Fay")}  # fmt: skip
    assert [(one.place, one.reason) for one in book.refusals] == [
        (f"{path}/Gil_22/photo.jpg", sources.PICTURE)
    ]
    fay = next(s for s in students if s.entry.student == "Fay Sample")
    assert "“Fay Sample” is that of its folder" in fay.notes[0]


@pytest.mark.parametrize("write", [xlsx, ods])
def test_a_workbook_is_marked_as_its_csv(write, tmp_path, capsys):
    rows = [line.split(",") for line in csv_of([("Zoë", right("Zoë"))]).splitlines()]
    rows[1] = [float(cell.removesuffix(" g")) if cell.endswith(" g") else cell for cell in rows[1]]
    path = tmp_path / f"answers.{write.__name__}"
    path.write_bytes(write(rows).getvalue())
    assert main(["mark", str(path), "--set", KEY]) == 0
    said = capsys.readouterr().out
    assert "Zoë: 19 of 19" in said
    assert "Read from the sheet “Answers”. The other sheets are not read: “Other”." in said
    names, out = tmp_path / f"list.{write.__name__}", tmp_path / "marks.csv"
    names.write_bytes(write([["Number", "Name"], [7, "Zoë"], [8, "Mia"]]).getvalue())
    assert main(["mark", str(path), "--set", KEY, "--students", str(names), "--marks", str(out)]) == 0  # fmt: skip
    assert [line[:7] for line in out.read_text("utf-8-sig").splitlines()[1:]] == ["7,Zoë,1", "8,Mia,,"]  # fmt: skip


@pytest.mark.parametrize(("encoding", "name"), [("cp1252", "Windows-1252"), ("utf-16", "UTF-16"), ("utf-8", "UTF-8")])  # fmt: skip
@pytest.mark.parametrize("ending", ["csv", "txt"])
def test_a_table_says_how_it_was_read(encoding, name, ending, tmp_path):
    path = tmp_path / f"answers.{ending}"
    path.write_bytes(csv_of([("Zoë", right("Zoë"))], "\t").encode(encoding))
    book, students = marked(path)
    assert [(s.entry.student, s.marks) for s in students] == [("Zoë", 19)]
    assert f"Read as {name}, with tabs between the cells" in book.remarks[0].says


def test_several_texts_in_one_paste_are_several_hand_ins(tmp_path):
    path = tmp_path / "pasted.txt"
    texts = [pasted("Ada"), pasted("Ben"), "> " + pasted("Ben").replace("\n", "\n> ")]
    path.write_text("Dear all,\n\n" + "\nRegards\n".join(texts) + pasted("Cy")[:120], "utf-8")
    book, students = marked(path)
    assert [(s.entry.student, s.marks) for s in students] == [("Ada", 19), ("Ben", 19)]
    assert [one.place for one in book.refusals] == [f"{path}, text 3"]
    path.write_text((pasted("Ada") + END) * 400, "utf-8")
    assert len(list(collect([path], SET))) < 400


KINDS = {
    "a.jpg": (b"\xff\xd8\xff\xe0", sources.PICTURE), "b.heic": (b"\0\0\0\x18ftypheic", sources.PICTURE), "c.pdf": (b"%PDF-1.7", sources.PDF),
    "d.docx": (zipped({"word/document.xml": "<w/>"}), sources.DOCUMENT), "e.xls": (b"\xd0\xcf\x11\xe0" + bytes(9), sources.OLD_WORKBOOK),
    "f.doc": (b"\xd0\xcf\x11\xe0" + bytes(9), sources.DOCUMENT), "g.mp4": (b"\0\0\0\x18ftypmp42", sources.RECORDING), "h.7z": (b"7z\xbc\xaf\x27\x1c", sources.PACKED),
    "i.html": (b"<p>Hello", sources.WEB_PAGE), "j.numbers": (zipped({"Index/a": "x"}), sources.OLD_WORKBOOK), "k.bin": (bytes(range(256)), sources.NO_TEXT),
    "l.zip": (b"PK\3\4 cut short", sources.BAD_ZIP), "m.rtf": (b"{\\rtf1", sources.DOCUMENT), "n.png": (b"not even a picture", sources.PICTURE),
}  # fmt: skip


@pytest.mark.parametrize("name", KINDS)
def test_each_kind_of_file_gets_its_own_advice(name, tmp_path):
    content, says = KINDS[name]
    (tmp_path / name).write_bytes(content)
    assert list(collect([tmp_path / name], SET)) == [Refusal(str(tmp_path / name), says)]


def read(raw: bytes, tmp_path) -> list[Source | Refusal]:
    path = tmp_path / "a.zip"
    path.write_bytes(raw)
    return list(sources.sources([path]))


def test_a_zip_that_floods_is_refused_before_it_is_read(tmp_path, monkeypatch):
    """CWE-409: many files, much in few bytes, a list of files that fills the memory, zips in zips."""
    bomb = zipped({"a.json": b"0" * 5_000_000})
    monkeypatch.setattr(sources, "LARGEST_INSIDE", 1_000_000)
    assert [one.reason for one in read(bomb, tmp_path)] == ["This file is far too large for a hand-in."]  # fmt: skip
    monkeypatch.setattr(sources, "LARGEST_WHOLE", 1_000_000)
    assert [one.reason for one in read(bomb, tmp_path)] == [sources.LARGE_ZIP]
    monkeypatch.setattr(sources, "MOST_FILES", 10)
    many = zipped({f"{n}.json": b"x" for n in range(11)})
    assert [one.reason for one in read(many, tmp_path)] == [sources.LARGE_ZIP]
    monkeypatch.setattr(sources, "LARGEST_LIST", 100)
    opened = []
    monkeypatch.setattr(zipfile, "ZipFile", lambda *given: opened.append(given))
    assert [one.reason for one in read(many, tmp_path)] == [sources.LARGE_ZIP]
    assert opened == []


def test_a_zip_in_a_zip_in_a_zip_and_a_locked_file_are_refused(tmp_path):
    deep = zipped({"b.zip": zipped({"c.zip": zipped({"d.json": "x"}), "e.json": "x"})})
    found = read(deep, tmp_path)
    assert [one.reason for one in found if isinstance(one, Refusal)] == [sources.TOO_DEEP]
    assert [one.name for one in found if isinstance(one, Source)] == ["e.json"]
    locked = bytearray(zipped({"a.json": "x"}, zipfile.ZIP_STORED))
    locked[locked.rfind(b"PK\1\2") + 8] |= 1
    assert [one.reason for one in read(bytes(locked), tmp_path)] == [sources.LOCKED]


@pytest.mark.parametrize("name", PATHS)
def test_no_name_in_a_zip_leads_anywhere(name, tmp_path):
    """CWE-22: nothing is unpacked; a name is only told."""
    folder = tmp_path / "in"
    folder.mkdir()
    (folder / "a.zip").write_bytes(zipped({name: write_handin(SET, "Ada", {})}))
    for one in collect([folder / "a.zip"], SET):
        assert isinstance(one, Entry | Refusal)
        assert ".." not in one.place.removeprefix(str(tmp_path)).split("/")
    assert [path.name for path in tmp_path.rglob("*")] == ["in", "a.zip"]


@given(st.binary(max_size=300), st.integers(0, 400), st.integers(0, 255))
def test_any_damaged_zip_is_read_or_refused(tmp_path_factory, raw, at, byte):
    good = bytearray(zipped({"a.json": write_handin(SET, "Ada", {}), "b.csv": "student\nAda"}))
    good[at % len(good)] = byte
    path = tmp_path_factory.mktemp("zip") / "a.zip"
    for content in (bytes(good), raw, bytes(good)[: at % len(good)], raw + bytes(good)):
        path.write_bytes(content)
        list(collect([path], SET))


def test_files_that_begin_before_their_zip_are_told(tmp_path):
    raw = bytearray(
        zipped({"a.json": "{}", "b.zip": zipped({"c.json": "{}"}), "d.csv": "student\nAda"})
    )
    place = raw.rfind(b"PK\5\6") + 16
    raw[place : place + 4] = (int.from_bytes(raw[place : place + 4], "little") + 9_000).to_bytes(
        4, "little"
    )
    path = tmp_path / "a.zip"
    path.write_bytes(bytes(raw))
    found = list(collect([path], SET))
    assert len(found) == 3
    assert all(isinstance(one, Refusal) for one in found)


@given(st.binary(max_size=64), st.sampled_from([".json", ".txt", ".jpg", ".docx", ".html", ""]))
def test_advice_is_words_or_nothing(head, ending):
    assert isinstance(advice(head, ending), str)
