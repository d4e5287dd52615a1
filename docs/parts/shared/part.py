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
