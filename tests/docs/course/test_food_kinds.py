"""The pack page's table of kinds says what the reading itself takes."""

from calc import pack_kinds
from docs.course.food_kinds import HEADS, build


def test_each_kind_that_the_page_offers_has_its_row():
    box = build({})[0]
    rows = [["".join(cell.itertext()) for cell in row] for row in box.iterfind("table/tbody/tr")]
    assert [row[0] for row in rows] == [kind.name for kind in pack_kinds.kinds().values()]
    assert all(len(row) == len(HEADS) for row in rows)
    by_name = {row[0]: row for row in rows}
    sour = pack_kinds.kinds()["sour-juice"]
    assert by_name[sour.name][4] == "0 to 6.5\u00a0g"
    assert by_name["Eggs"][3:] == ["none", "none"]
