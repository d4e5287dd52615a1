"""What every part that is a form with a result does, at build time and in the page."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import ClassVar, Generic, TypeVar
from xml.etree.ElementTree import Element

from docs.parts.shared.fields import Notes, form_with_result
from docs.parts.shared.formula_table import put_cells
from docs.parts.shared.onward import placed

Result = TypeVar("Result")


@dataclass(frozen=True)
class FormPart(Generic[Result]):
    """A part made of five pieces, and those that a part may have.

    `fields` turns a lesson's attributes into the form's values; `form` draws the form; `result`
    computes, and raises FieldErrors with a message for each field that stops it; `view` shows the
    result and `headline` says it in one sentence. `notes` says what stands beside a field. A part that starts from a formula says with `onward` where its dough
    may go next. `prefix` names the form where the element has no id of its own.
    """

    prefix: str
    fields: Callable[[Mapping[str, str]], dict[str, str]]
    form: Callable[[Mapping[str, str], str], Element]
    result: Callable[[Mapping[str, str]], Result]
    view: Callable[[Result], list[Element]]
    headline: Callable[[Result], str]
    notes: Callable[[Mapping[str, str], Result], Notes] = lambda values, made: ({}, {})
    onward: Callable[[Mapping[str, str], Result], Element] | None = None
    cells: Callable[[Mapping[str, str], Result], dict[str, str]] = lambda values, made: {}
    card: ClassVar[bool] = True

    def build(self, attributes: Mapping[str, str]) -> list[Element]:
        """The form and, computed now, its result."""
        values = self.fields(attributes)
        made = self.result(values)
        form = self.form(values, attributes.get("id", self.prefix))
        put_cells(form, self.cells(values, made))
        return form_with_result(form, self._shown(values, made), self.headline(made))

    def respond(self, values: Mapping[str, str]) -> dict[str, object]:
        """Answer the page: the elements to show, a sentence to announce, a remark under a field."""
        made = self.result(values)
        remarks, offers = self.notes(values, made)
        return {
            "elements": self._shown(values, made),
            "says": self.headline(made),
            "remarks": remarks,
            "offers": offers,
            "cells": self.cells(values, made),
        }

    def _shown(self, values: Mapping[str, str], made: Result) -> list[Element]:
        shown = self.view(made)
        return placed(shown, self.onward(values, made)) if self.onward else shown
