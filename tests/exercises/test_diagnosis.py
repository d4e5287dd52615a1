"""The diagnosis names what was done, and does not blame at random (tests/bench/diagnosis.py)."""

from calc.mistakes import CATALOGUE
from tests.bench.diagnosis import report


def test_names_mistakes_rightly_and_seldom_blames_a_random_number(capsys):
    whole = report(draws=15)
    assert whole.made > 1000
    assert whole.named / whole.made >= 0.95
    assert whole.blamed / whole.random < 0.02
    assert whole.alike / whole.draws < 0.05
    assert capsys.readouterr().out.count("\n") > 5


def test_knows_at_least_25_wrong_methods_each_with_its_sentence():
    assert len(CATALOGUE) >= 25
    assert len({mistake.key for mistake in CATALOGUE}) == len(CATALOGUE)
    for mistake in CATALOGUE:
        assert mistake.says.endswith(".")
        assert len(mistake.says) > 25
