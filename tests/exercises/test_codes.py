"""The code on a sheet tells whose numbers it has."""

from dataclasses import replace

from exercises.codes import code_of, same_code, sheet_name, sheet_of
from exercises.problems import load


def test_codes_tell_sheets_apart_and_stay_the_same():
    """Drawn once, from version 1 (SHA-256, FIPS 180-4, in base32, RFC 4648), and must not change."""
    problem_set = replace(load("first-swaps"), version=1)
    codes = {code_of(problem_set, sheet_name(number)) for number in range(1, 1000)}
    assert len(codes) == 999
    assert code_of(problem_set, "Ada Brook") == code_of(problem_set, "  ada BROOK") == "HWNYSJ"
    assert sheet_of(problem_set, code_of(problem_set, "Sheet 7")) == "Sheet 7"
    assert sheet_of(problem_set, "AAAAAA") is None
    assert same_code(" hwn-ysj ") == "HWNYSJ"
    assert same_code("O0I1B8") == "OOIIBB"
