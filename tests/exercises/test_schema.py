"""The schema of a set says what the reader says."""

import re
from importlib.resources import files

import jsonschema
import yaml

from exercises import problems
from exercises.schema import schema
from tests.exercises.set_texts import GOOD


def test_the_schema_agrees_with_the_reader():
    """Outside check: JSON Schema 2020-12, by the reference library jsonschema."""
    validator = jsonschema.Draft202012Validator(schema())
    jsonschema.Draft202012Validator.check_schema(schema())
    for key in problems.set_keys():
        text = (files("exercises") / "sets" / f"{key}.yml").read_text("utf-8")
        validator.validate(yaml.safe_load(text))
    validator.validate(yaml.safe_load(GOOD))
    for slip in ("titel: One loaf", "ask: new liqid", "version: one"):
        word = slip.split(":")[0].replace("titel", "title")
        bad = re.sub(rf"(?m){word}: (One loaf|new liquid|1)$", slip, GOOD, count=1)
        assert bad != GOOD
        assert not validator.is_valid(yaml.safe_load(bad))
