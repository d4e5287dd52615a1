"""Wide tables of a text, whose cells name their columns."""

from docs.build.tree import read, tags
from docs.build.wide_tables import name_columns

TABLE = "<table{}><thead><tr>{}</tr></thead><tbody>{}</tbody></table>"


def labels(attributes, *heads, says="weighed with the salt"):
    row = "".join(f"<td>{says}</td>" for _ in heads)
    head = "".join(f"<th>{each}</th>" for each in heads)
    page = read(f"<body>{TABLE.format(attributes, head, f'<tr>{row}</tr>')}</body>")
    name_columns(page)
    return [cell.get("data-label") for cell in tags(page, "td")]


def test_each_cell_of_a_wide_table_names_its_column_but_the_first():
    heads = ("Dough", "Salt", "Its <b>step</b>", "Half")
    assert labels("", *heads) == [None, "Salt", "Its step", "Half"]


def test_a_narrow_table_one_of_figures_and_one_of_ours_stay():
    assert labels("", "Dough", "Salt", "Step") == [None] * 3
    assert labels("", "A", "B", "C", "D", says="2.5 g") == [None] * 4
    assert labels(' class="dw-grid"', "A", "B", "C", "D") == [None] * 4
