"""Which modules there are, and what each imports."""

from docs.build.modules import DOCS, element_modules, imported


def test_what_a_module_imports_is_found_to_the_end():
    found = imported("parts/liquid-swap.js")
    assert found[0] == "parts/liquid-swap.js"
    assert {"parts/shared/formula-form.js", "engine/engine.js", "page/limits.js"} <= set(found)
    assert len(found) == len(set(found))


def test_an_element_has_the_module_of_its_name():
    found = element_modules()
    assert found["lesson-steps"] == "course/lesson-steps.js"
    assert all((DOCS / path).stem == name for name, path in found.items())
