"""The register of what a problem may ask for."""

import subprocess
import sys

import pytest

from calc.quantities import RANKINGS, REGISTRY
from calc.registry import quantity


def test_its_order_is_the_same_whatever_was_imported_first():
    """Lists in the site follow it, and two builds must give the same bytes."""
    run = (
        "import calc.temperature, calc.feel; from calc.quantities import RANKINGS, REGISTRY; "
        "print(*REGISTRY, *RANKINGS, sep='|')"
    )
    found = subprocess.run([sys.executable, "-c", run], check=True, capture_output=True, text=True)
    assert found.stdout.strip() == "|".join([*REGISTRY, *RANKINGS])


def test_two_calculations_of_one_name_are_refused():
    name = next(iter(REGISTRY))
    with pytest.raises(ValueError, match="Give one another name"):
        quantity(name, "something else")(REGISTRY[name].build)
