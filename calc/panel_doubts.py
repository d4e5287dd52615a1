"""What to say beside a water content that was read from a pack: what does not fit, what makes it wide."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from calc import units
from calc.label import ANY, Panel, WaterContent, is_too_salty, salt_share
from calc.panel_energy import Energy, Suspect, fits, given_by, suspects
from calc.units import PLAIN, Style

# Bounds as wide as this, in shares, choose between no two recipes.
WIDE = 0.06
# What most US servings of a thing that is spread, sprinkled or stirred in weigh less than, in grams.
SMALL_SERVING = 60.0
ACID_WORTH_SAYING = 0.01


@dataclass(frozen=True)
class Doubt:
    """A doubt in words; `field` is where to look, and `serious` that a figure may be wrong."""

    title: str
    says: str
    field: str = ""
    serious: bool = False


def doubts(
    panel: Panel, found: WaterContent, energy: Energy | None = None, style: Style = PLAIN
) -> list[Doubt]:
    """Everything to say of a panel and its water, the serious first."""
    said = [*_slips(panel, found, energy, style), *_widths(panel, found)]
    return sorted(said, key=lambda doubt: not doubt.serious)


def _slips(
    panel: Panel, found: WaterContent, energy: Energy | None, style: Style
) -> Iterator[Doubt]:
    if energy and not fits(panel, energy):
        yield _of_energy(panel, energy, style)
    salt, most = salt_share(panel), panel.kind.most_salt
    if is_too_salty(panel):
        has, known = (units.write(100 * share, "mass", style, 0.1) for share in (salt.low, most))
        yield Doubt(
            "Salt: ",
            f"these figures give {has} of it in 100 g, and the saltiest food of this kind that we know "
            f"has {known}. Look at the unit and the decimal point.",
            panel.basis.salt,
            True,
        )

    if found.working.bounds()["water"].high < 0:
        yield Doubt(
            "No water is left: ",
            "with the minerals that such a food holds, the figures come to more than 100 g. Check them, "
            "and the kind of food.",
            "kind",
            True,
        )


def _of_energy(panel: Panel, energy: Energy, style: Style) -> Doubt:
    given = given_by(panel, energy.unit)
    ends = [units.digits(max(0.0, end), 1.0, style) for end in (given.low, given.high)]
    printed = f"{units.digits(energy.figure.value, 1.0, style)} {energy.unit}"
    says = f"the figures give from {ends[0]} to {ends[1]} {energy.unit}, and the pack prints {printed}. "
    tried = suspects(panel, energy)[:2]
    if tried:
        says += (
            "It would fit with " + ", or with ".join(_instead(each, style) for each in tried) + ". "
        )
        says += "Look there first. "
    more = energy.figure.range.low > given.high
    if more or not tried:
        says += _questions(more)
    return Doubt(
        "The energy does not fit: ", says.strip(), tried[0].field if tried else "energy", True
    )


def _instead(suspect: Suspect, style: Style) -> str:
    if suspect.field == "energy":
        unit = f" {suspect.other}" if suspect.other else ""
        return f"an energy of {_plain(suspect.instead, style)}{unit}"
    if suspect.other:
        return f"{suspect.field} and {suspect.other} exchanged"
    return f"{_plain(suspect.instead, style)} g of {suspect.field}"


def _plain(value: float, style: Style) -> str:
    return f"{value:.4g}".replace(".", style.decimal)


def _questions(more: bool) -> str:
    if more:
        return "Is the fat all of the fat, not the saturates? Is the carbohydrate all of it, not the sugars?"
    return (
        "Is the energy for the same amount as the figures? Are sugars or saturates counted twice?"
    )


def _widths(panel: Panel, found: WaterContent) -> Iterator[Doubt]:
    wide = found.bounds.width > WIDE
    if wide and not panel.basis.fibre_apart and panel.amount.value < SMALL_SERVING:
        yield Doubt(
            "Small serving: ",
            "each rounding weighs much in so little food. Use the table’s row for it, or dry a sample.",
            "serving",
        )
    elif wide and panel.basis.fibre_apart and "fibre" not in panel.figures:
        yield Doubt(
            "Fibre: ",
            "the pack prints none, which a law allows, so the bounds reach from none to what such foods "
            "hold. Use the table’s row, or dry a sample.",
            "fibre",
        )
    elif wide:
        yield Doubt("Wide bounds: ", "use the table’s row for this food, or dry a sample.")
    if panel.whole_grams:
        yield Doubt(
            "Whole grams: ",
            "every figure is one, so each may be half a gram off. Type 7.0 where the pack prints 7.0.",
        )
    if panel.kind.key == ANY:
        yield Doubt(
            "Kind not known: ",
            "the bounds allow the minerals and the acid of any moist food. If you know the kind, choose it.",
            "kind",
        )
    acid = found.working.givens.get("acid")
    if acid and acid.interval.high >= ACID_WORTH_SAYING:
        yield Doubt(
            "Acid: ",
            "no panel prints it, and EU carbohydrate leaves it out. The sourer the food, the nearer the "
            "water is to the lower bound.",
        )
    if panel.density and not panel.density.text:
        yield Doubt(
            "Density: ",
            "estimated from the pack’s own figures. Weigh 100 ml for a better one; froth and air make it lower.",
            "density",
        )
