"""Workbooks as other programs write them (openpyxl, odfpy), and as nobody should: refused in bounded work."""

import io
import zipfile

import openpyxl
import pytest
from hypothesis import given
from hypothesis import strategies as st
from odf.office import Annotation
from odf.opendocument import OpenDocumentSpreadsheet
from odf.table import Table, TableCell, TableRow
from odf.text import P

from exercises import workbook
from exercises.workbook import WorkbookError, as_written, first_sheet
from tests.hostile import XML, any_text

ROWS = [["student", "a/b"], ["Zoë & Søren", 31.5], [], ["Ben", 0.1 + 0.2], ["", "", "far"]]
READ = [["student", "a/b"], ["Zoë & Søren", "31.5"], [], ["Ben", "0.3"], ["", "", "far"]]


def xlsx(rows, change=lambda sheet: None) -> io.BytesIO:
    book = openpyxl.Workbook()
    book.active.title = "Answers"
    for row in rows:
        book.active.append([cell if cell != "" else None for cell in row])
    change(book.active)
    book.create_sheet("Other").append(["nobody", "reads this"])
    file = io.BytesIO()
    book.save(file)
    file.seek(0)
    return file


def ods(rows, change=lambda table: None) -> io.BytesIO:
    book, table = OpenDocumentSpreadsheet(), Table(name="Answers")
    for row in rows:
        line = TableRow()
        for value in row:
            is_number = isinstance(value, float | int)
            cell = TableCell(valuetype="float", value=value) if is_number else TableCell(valuetype="string")  # fmt: skip
            if value != "":
                cell.addElement(P(text=str(value)))
            line.addElement(cell)
        table.addElement(line)
    change(table)
    book.spreadsheet.addElement(table)
    book.spreadsheet.addElement(Table(name="Other"))
    file = io.BytesIO()
    book.write(file)
    file.seek(0)
    return file


@pytest.mark.parametrize("write", [xlsx, ods])
def test_the_first_sheet_is_read_as_it_was_written(write):
    sheet = first_sheet(write(ROWS))
    assert (sheet.name, sheet.others) == ("Answers", ("Other",))
    assert list(sheet.rows()) == READ
    assert list(sheet.rows()) == READ


def test_a_percentage_is_what_was_typed():
    def percent(sheet):
        sheet["A1"].number_format = "0%"
        sheet["B1"].number_format = '0.0" %"'
        sheet["C1"].number_format = "0.00%"

    assert list(first_sheet(xlsx([[0.68, 31, 0.07]], percent)).rows()) == [["68 %", "31", "7 %"]]

    def of_ods(table):
        row = TableRow()
        row.addElement(TableCell(valuetype="percentage", value=0.68))
        table.addElement(row)

    assert list(first_sheet(ods([], of_ods)).rows()) == [["68 %"]]


def test_repeats_and_notes_of_an_ods():
    """A sheet ends in a million empty rows and cells; a note on a cell is none of its text."""

    def change(table):
        row = TableRow(numberrowsrepeated=2)
        cell = TableCell(valuetype="string", numbercolumnsrepeated=2)
        note = Annotation()
        note.addElement(P(text="not this"))
        cell.addElement(note)
        cell.addElement(P(text="x"))
        row.addElement(cell)
        row.addElement(TableCell(numbercolumnsrepeated=16_000))
        table.addElement(row)
        table.addElement(TableRow(numberrowsrepeated=1_048_000))

    assert list(first_sheet(ods([["head"]], change)).rows()) == [["head"], ["x", "x"], ["x", "x"]]


@given(st.lists(st.lists(st.integers(-10**9, 10**9) | st.floats(-1e9, 1e9) | st.text(st.characters(categories=["L", "N", "P", "Zs"]), min_size=1, max_size=9), max_size=4), max_size=6))  # fmt: skip
def test_both_kinds_read_the_same(rows):
    """Numbers come back as they are, to twelve figures; texts letter for letter."""
    read = list(first_sheet(xlsx(rows)).rows())
    for row, got in zip([row for row in rows if row], [row for row in read if row], strict=True):
        for value, text in zip(row, got, strict=True):
            if isinstance(value, str):
                assert text == value
            else:
                assert float(text) == pytest.approx(value, rel=1e-11, abs=1e-300)


@pytest.mark.parametrize(("number", "is_percent", "shown"), [("31.5", False, "31.5"), ("0.07", True, "7 %"), ("0.30000000000000004", False, "0.3"), ("x", False, "x"), ("1e999", False, "1e999")])  # fmt: skip
def test_a_number_is_written_as_it_was_typed(number, is_percent, shown):
    assert as_written(number, is_percent) == shown


def changed(file: io.BytesIO, part: str, content: bytes) -> io.BytesIO:
    made = io.BytesIO()
    with zipfile.ZipFile(file) as old, zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as new:
        for name in {*old.namelist()} - {part}:
            new.writestr(name, old.read(name))
        new.writestr(part, content)
    made.seek(0)
    return made


def test_texts_that_cells_share_are_read_as_openpyxl_reads_them():
    """Most programs write a text once; how a word is spoken (rPh) and its bold letters (r) are no part of it."""
    shared = '<sst xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><si><t>student</t></si><si><r><t>a</t></r><r><t xml:space="preserve"> b</t></r><rPh sb="0" eb="1"><t>no</t></rPh></si></sst>'
    sheet = '<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData><row r="2"><c r="B2" t="s"><v>1</v></c><c r="C2" t="s"><v>0</v></c><c r="D2" t="str"><f>1</f><v>made</v></c></row></sheetData></worksheet>'
    file = changed(
        changed(xlsx(ROWS), SHEET, sheet.encode()), "xl/sharedStrings.xml", shared.encode()
    )
    types = b'<Override PartName="/xl/sharedStrings.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sharedStrings+xml"/></Types>'
    with zipfile.ZipFile(file) as book:
        listed = book.read("[Content_Types].xml").replace(b"</Types>", types)
    file = changed(file, "[Content_Types].xml", listed)
    theirs = openpyxl.load_workbook(file, data_only=True).active
    assert [cell.value for cell in theirs[2]] == [None, "a b", "student", "made"]
    file.seek(0)
    assert list(first_sheet(file).rows()) == [[], ["", "a b", "student", "made"]]


SHEET = "xl/worksheets/sheet1.xml"


@pytest.mark.parametrize("content", XML)
@pytest.mark.parametrize(("write", "part"), [(xlsx, SHEET), (xlsx, "xl/sharedStrings.xml"), (xlsx, "xl/workbook.xml"), (ods, "content.xml")])  # fmt: skip
def test_a_hostile_part_is_refused(write, part, content):
    with pytest.raises(WorkbookError):
        list(first_sheet(changed(write(ROWS), part, content)).rows())


def test_what_unpacks_without_end_is_read_only_so_far(monkeypatch):
    monkeypatch.setattr(workbook, "LARGEST_PART", 1_000_000)
    bomb = b"<worksheet><sheetData>" + b"<row><c><v>1</v></c></row>" * 100_000
    taken = []
    with pytest.raises(WorkbookError, match="far too large"):
        taken.extend(first_sheet(changed(xlsx(ROWS), SHEET, bomb)).rows())
    assert len(taken) < 50_000


@pytest.mark.parametrize("cell", ['r="ZZZ1"', 'r="A99999999"', 't="s"', 't="s" r="B1"', 's="999"', 'r=""'])  # fmt: skip
@pytest.mark.parametrize("row", ['r="99999999999"', 'r="-1"', 'r="300000"', ""])
def test_places_that_cannot_be_are_passed_over_or_refused(row, cell):
    xml = f'<w><sheetData><row {row}><c {cell}><v>1</v></c></row></sheetData></w>'.encode()  # fmt: skip
    try:
        rows = list(first_sheet(changed(xlsx(ROWS), SHEET, xml)).rows())
    except WorkbookError:
        return
    assert len(rows) <= workbook.MOST_ROWS
    assert all(len(cells) <= workbook.MOST_COLUMNS for cells in rows)


@pytest.mark.parametrize("times", ["number-rows-repeated", "number-columns-repeated"])
def test_a_cell_that_repeats_without_end_is_bounded(times):
    tag = "table-row" if "rows" in times else "table-cell"
    cell = '<table-cell number-columns-repeated="9999999"><p>x</p></table-cell>'
    xml = f'<s><table name="a"><table-row number-rows-repeated="99999999">{cell}</table-row></table></s>' if tag == "table-row" else f'<s><table name="a"><table-row>{cell}</table-row></table></s>'  # fmt: skip
    try:
        rows = list(first_sheet(changed(ods(ROWS), "content.xml", xml.encode())).rows())
    except WorkbookError as error:
        assert tag == "table-row", error  # noqa: PT017
    else:
        assert [len(row) for row in rows] == [workbook.MOST_COLUMNS]


@given(st.binary(max_size=400), st.sampled_from([b"", b"PK\3\4", b"PK\5\6" + bytes(18)]))
def test_any_bytes_are_no_workbook(raw, start):
    with pytest.raises(WorkbookError):
        first_sheet(io.BytesIO(start + raw))


@given(st.lists(any_text.map(lambda t: t.encode("utf-8", "replace").decode()), max_size=3))
def test_any_text_in_a_cell_is_text(cells):
    xml = io.StringIO()
    from xml.sax.saxutils import escape

    kept = ["".join(c for c in cell if c.isprintable()) for cell in cells]
    xml.write('<w><sheetData><row r="1">')
    xml.writelines(f'<c t="inlineStr"><is><t>{escape(cell)}</t></is></c>' for cell in kept)
    xml.write("</row></sheetData></w>")
    rows = list(first_sheet(changed(xlsx(ROWS), SHEET, xml.getvalue().encode())).rows())
    assert "".join(rows[0]) == "".join(kept)


def test_a_part_that_begins_before_its_zip_is_refused():
    """The end of a zip says where its list of files begins (APPNOTE 4.3.16); here, too far on."""
    raw = bytearray(xlsx(ROWS).getvalue())
    place = raw.rfind(b"PK\5\6") + 16
    raw[place : place + 4] = (int.from_bytes(raw[place : place + 4], "little") + 90_000).to_bytes(
        4, "little"
    )
    with pytest.raises(WorkbookError):
        list(first_sheet(io.BytesIO(bytes(raw))).rows())
