"""What an element of ours is to the build and to the page."""

from __future__ import annotations

from collections.abc import Mapping
from importlib import import_module
from typing import Protocol
from xml.etree.ElementTree import Element


class Part(Protocol):
    """Fills an element: a module with these functions, or the `PART` in it.

    One that the page asks again also has ``respond(fields)``, which returns the answer's ``elements``
    and more. One that is a card of its own, as a tool with its form is, has ``card = True``.
    """

    def build(self, attributes: Mapping[str, str]) -> list[Element]:
        """What the element holds before any script runs. Raises ValueError or LookupError."""


def parts_of(package: str, *names: str) -> dict[str, Part]:
    """The parts of a package by their elements' names; ``x-y`` is in its module ``x_y``."""
    modules = {name: import_module(f"{package}.{name.replace('-', '_')}") for name in names}
    return {name: getattr(module, "PART", module) for name, module in modules.items()}


class LatePart:
    """A part whose module is imported when it is first asked for something.

    What it imports is not in the snapshot of memory that each page starts from; in the page the
    library then brings it.
    """

    def __init__(self, module: str) -> None:
        self._module = module

    def __getattr__(self, name: str) -> object:
        if name.startswith("__"):  # as `pickle` and `inspect` look for them: nothing to import for
            raise AttributeError(name)
        return getattr(self.load(), name)

    def load(self) -> Part:
        """The part itself."""
        module = import_module(self._module)
        return getattr(module, "PART", module)


def late_parts_of(package: str, *names: str) -> dict[str, LatePart]:
    """As `parts_of`, but nothing is imported yet."""
    return {name: LatePart(f"{package}.{name.replace('-', '_')}") for name in names}
