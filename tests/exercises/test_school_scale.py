"""A school's scale gives the grade of the percentage that is shown."""

import pytest

from exercises.school_scale import ScaleError, read_scale


@pytest.mark.parametrize(
    "text", ["A=90,B=80,C=70", "C = 70 %; A=90; B=80", "A=90\nB=80\nC=70", "A=90,0;B=80,0;C=70,0"]
)
def test_a_scale_is_read_in_any_order(text):
    scale = read_scale(text)
    assert [scale.grade(p) for p in (100, 90, 89.96, 89.9, 70, 69)] == ["A", "A", "A", "B", "C", "below C"]  # fmt: skip


@pytest.mark.parametrize("text", ["", "A", "A=x", "=90", "A=101", "A=90,B=90", "A=90" * 99])
def test_what_is_no_scale_is_told(text):
    with pytest.raises(ScaleError):
        read_scale(text)
