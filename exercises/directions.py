"""What to tell a student to write for a problem: the same words in the page and on paper."""

from __future__ import annotations

from exercises.draws import Variant

_ONE = "Write the answer with its unit."
_ENOUGH = "In the steps before it, whole grams and whole per cent are exact enough."


def what_to_write(variant: Variant) -> str:
    """What to write for a problem, in a sentence or two."""
    problem = variant.problem
    if problem.ranking:
        return problem.ranking.asks
    if problem.questions:
        return (
            "Choose one answer."
            if len(problem.questions) == 1
            else "Choose one answer to each question."
        )
    if problem.quantity.cells:
        return "Fill in every cell. A slip in one does not spoil the others."
    return f"{_how_much_to_write(variant)} {_ENOUGH}" if len(variant.working.steps) > 1 else _ONE


def _how_much_to_write(variant: Variant) -> str:
    if variant.is_free and variant.problem.credits_unshown:
        return "Plan it yourself: write your working line by line, or only the answer."
    if not variant.problem.credits_unshown:
        return "Write every step: only what you write earns a mark."
    if len(variant.asked) > 1:
        return f"Write every step, or only the {len(variant.asked)} answers."
    return "Write every step, or only the answer."
