"""What is printed where the output's encoding lacks our signs: nothing stops half-way."""

import io
import sys

import pytest

from exercises.cli import SETS, main

ABSENT = "NO SET OF 李伟.yml"


@pytest.mark.parametrize("encoding", ["cp1252", "cp1251", "ascii"])
def test_a_set_goes_into_a_file_that_has_no_minus(monkeypatch, encoding):
    assert "a. -36 °C" in shown(monkeypatch, encoding).replace("?C", "°C")


def test_where_the_encoding_has_them_our_signs_stay(monkeypatch):
    assert "a. −36 °C" in shown(monkeypatch, "utf-8")


def test_a_message_that_names_a_file_of_another_country_is_told(monkeypatch):
    file = io.BytesIO()
    monkeypatch.setattr(sys, "stderr", io.TextIOWrapper(file, encoding="cp1252"))
    assert main(["check", ABSENT]) == 1
    sys.stderr.flush()
    assert b"NO SET OF ??.yml" in file.getvalue()


def shown(monkeypatch, encoding):
    """What `doughwater show` writes for a student, in an encoding."""
    file = io.BytesIO()
    monkeypatch.setattr(sys, "stdout", io.TextIOWrapper(file, encoding=encoding))
    assert main(["show", str(SETS / "dough-temperature.yml"), "--student", "Nell"]) == 0
    return file.getvalue().decode(encoding)
