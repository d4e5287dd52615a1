"""The files of data: each slip is told with its line and column, and none is lost."""

import csv
import io
from importlib.resources import files

import pytest

from calc import composition
from calc.data_file import INGREDIENTS, DataFileError, check_ingredients, rows_of

HEADINGS, *LINES = (files("calc") / "data" / INGREDIENTS).read_text("utf-8").splitlines()
BUTTERMILK = next(line for line in LINES if line.startswith("buttermilk,"))


def told(content: str | bytes) -> str:
    """What is said of a table of ingredients."""
    content = content.encode() if isinstance(content, str) else content
    with pytest.raises(DataFileError) as error:
        check_ingredients(
            rows_of(content, INGREDIENTS),
            composition.LIQUID_GROUPS | composition.OTHER_GROUPS,
            composition.sources(),
        )
    return str(error.value)


def changed(**cells: str) -> str:
    """The table of one line, buttermilk's, with some cells changed."""
    row = next(csv.DictReader([HEADINGS, BUTTERMILK])) | cells
    written = io.StringIO()
    csv.writer(written).writerow(row.values())
    return f"{HEADINGS}\n{written.getvalue()}"


def test_reads_a_table_as_spreadsheets_save_it():
    """With a mark before the text, other ends of line, and empty cells below."""
    text = "\ufeff" + changed().replace("\n", "\r\n") + "," * HEADINGS.count(",") + "\r\n"
    assert [row["key"] for row in rows_of(text.encode(), INGREDIENTS).values()] == ["buttermilk"]


@pytest.mark.parametrize(
    ("cells", "column", "says"),
    [
        ({"water": "78,5"}, "water", "write 78.5 with a point"),
        ({"water": "98.5", "water_high": "99"}, "water", "add up to"),
        ({"water": "78.5 g"}, "water", "must be a number from 0 to 100"),
        ({"water": "nan"}, "water", "must be a number"),
        ({"fat": ""}, "fat", "this is empty"),
        ({"water_low": "99"}, "water_low", "is more than"),
        ({"sugars": "90"}, "sugars", "is more than"),
        ({"ph_high": ""}, "ph_high", "Fill in both, or neither"),
        ({"sugars_source": ""}, "sugars_source", "Fill in both, or neither"),
        ({"perishable": "ja"}, "perishable", "Write yes or no"),
        ({"allergens": "Milch"}, "allergens", "“Milch” is not known. Write"),
        ({"allergens": "Milk"}, "allergens", "Write “milk”, if you mean that"),
        ({"group": "cultred"}, "group", "Write “cultured”, if you mean that"),
        ({"source": "our-pak"}, "source", "“our-pak” is not a key in calc/data/sources.csv"),
        ({"key": "My Quark"}, "key", "“My Quark” is no key"),
        ({"also": "sour milk, BUTTERMILK"}, "also", "“BUTTERMILK” is the name of a row"),
        ({"bulk_low": "1.1"}, "bulk_high", "Fill in both, or neither"),
        (
            {"bulk_low": "1.1", "bulk_high": "1", "bulk_source": "memory"},
            "bulk_low",
            "is more than",
        ),
    ],
)
def test_a_slip_is_told_with_its_line_and_column(cells, column, says):
    first = told(changed(**cells)).splitlines()[0]
    assert first.startswith(f"calc/data/ingredients.csv, line 2, column {column}: ")
    assert says in first


def test_every_slip_is_told_at_once_and_no_row_replaces_another():
    said = told(changed(perishable="ja", allergens="Milch") + BUTTERMILK)
    places = [
        line.removeprefix("calc/data/ingredients.csv, ").split(":")[0] for line in said.splitlines()
    ]
    assert places == [
        "line 2, column perishable",
        "line 2, column allergens",
        "line 3, column key",
        "line 3, column name",
    ]
    assert "line 3, column key: line 2 has “buttermilk” too." in said


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (changed().replace(",", ";"), "line 1: semicolons part the cells. Save it as CSV UTF-8"),
        (changed(note="crème").encode("latin-1"), "line 1: this is not UTF-8 text"),
        (changed() + BUTTERMILK + ",5\n", f"line 3: this line has {HEADINGS.count(',') + 2} cells"),
        (BUTTERMILK, "line 1: there is no column “key”"),
        ("", "line 1: there is no column “key”"),
    ],
)
def test_a_file_of_another_shape_is_told(content, says):
    assert f"calc/data/ingredients.csv, {says}" in told(content)
