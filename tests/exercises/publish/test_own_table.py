"""Own ingredients as a table: what is known is told, and what is not known is said to be so."""

from calc.own_ingredient import from_record
from exercises.publish.own_table import own_cells, own_table

FULL = {
    "name": "school kefir", "water": 88, "water_low": 87, "water_high": 89, "fat": 1.5, "sugars": 4,
    "density": 1.03, "density_low": 1.02, "density_high": 1.04, "ph_low": 4.2, "ph_high": 4.6,
    "allergens": ["milk"],
}  # fmt: skip


def told(record: dict) -> list[str]:
    row = own_table("In 100 g", [own_cells(from_record(record))]).find("table/tbody/tr")
    return ["".join(cell.itertext()).replace("\u00a0", " ") for cell in row]


def test_tells_what_is_known_with_its_ends():
    assert told(FULL) == [
        "school kefirliquid, egg or puree", "88 g (87 g to 89 g)", "1.5 g", "4 g",
        "1.03 g (1.02 to 1.04 g)", "4.2 to 4.6", "milk",
    ]  # fmt: skip


def test_says_what_is_not_known():
    assert told({"name": "school drink", "water": 90})[2:] == ["not known"] * 4 + [
        "not known: read its pack"
    ]
    assert told({"name": "a", "water": 90, "no_allergens": True})[-1] == "none on its pack"
