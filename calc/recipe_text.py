"""A recipe as people write it, read line by line: each line's ingredient and weight, or a question, or why it is left out.

`read_recipe` takes a pasted text apart (`calc.recipe_lines`), finds each ingredient in the table and
weighs it. Nothing is dropped in silence: every piece of the text comes back with what it was read as.

>>> recipe = read_recipe("500 g strong flour, 1 cup buttermilk, 2% salt")
>>> [(item.ingredient.name, round(item.grams)) for item in recipe.items]
[('bread flour', 500), ('buttermilk', 244), ('salt', 10)]
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from calc import composition, household, units
from calc.composition import Ingredient
from calc.formula import Formula, Item
from calc.interval import Interval
from calc.preferment import Kind
from calc.recipe_amounts import Amount, Weight, amounts, tokens, weigh
from calc.recipe_lines import Piece, pieces
from calc.recipe_names import (
    Part,
    alternatives,
    called,
    ferments,
    goes_elsewhere,
    is_note,
    is_preparation,
    to_taste,
    without_type,
)
from calc.substitution import merged
from calc.units import PLAIN, ReadingError, Style

# Percentages alone say no weight: they are taken of so much flour, in grams, until another is chosen.
FLOUR_OF_PERCENTAGES = 500.0
# What a recipe leaves open and a reader may take. Common practice, from memory: grams of dry yeast in a
# sachet, and the salt of bread as a share of its flour.
SACHET = 7.0
_SACHETS = ("dry-yeast", "instant-yeast")
USUAL_SALT = 0.02
# A number alone is grams from here on; fewer may be counted.
_LEAST_BARE = 5.0
# Spoken of as one thing, these are rarely weighed one by one.
_COUNTED_GROUPS = {"fruit", "puree", "egg"}
# An egg without its shell weighs something in this range (grams).
_AN_EGG = (30.0, 80.0)

# To find what is spelt alike takes long; a recipe has few strange names.
MOST_OFFERS = 30

# A cup is taken for what is written beside it in these.
_METRIC = {"ml", "l", "cl", "dl"}

LEAVE, USE = "leave", "use"


@dataclass(frozen=True)
class Choice:
    """One answer to a question: the value of a list's option, and its words."""

    value: str
    label: str


@dataclass(frozen=True)
class Answer:
    """What a reader answered on one line: a choice's value, a weight, another name."""

    pick: str = ""
    weighs: str = ""
    called: str = ""


@dataclass(frozen=True)
class ReadLine:
    """One piece of the text, and what it was read as.

    `outcome` is ``read``, ``asked`` or ``left``. Of a line that is read, `items` are in the dough, and
    `says` tells how. Of a question `says` asks it: `asks` is ``ingredient``, ``amount`` or ``readings``.
    `choices` may also belong to a line that is read or left: it was answered, or can be taken in.
    `typed` is the measure that a form takes as it is written, such as 1 cup.
    """

    piece: Piece
    outcome: str
    says: str
    items: tuple[Item, ...] = ()
    asks: str = ""
    choices: tuple[Choice, ...] = ()
    typed: str = ""
    share: float = 0.0
    ahead: Kind | None = None
    hydration: float = 0.0
    has_weight_field: bool = False


@dataclass(frozen=True)
class Recipe:
    """A recipe that was read: its lines, and what of the whole is to be said."""

    lines: tuple[ReadLine, ...]
    says: tuple[str, ...] = ()
    is_percentages: bool = False

    @property
    def items(self) -> tuple[Item, ...]:
        """Every item of the dough, those of its preferments too, in the recipe's order."""
        return tuple(item for line in self.lines for item in line.items)

    @property
    def open(self) -> tuple[ReadLine, ...]:
        """The lines that are still asked."""
        return tuple(line for line in self.lines if line.outcome == "asked")

    def dough(self) -> Formula | None:
        """The whole dough, each ingredient once; None without flour."""
        if not any(item.ingredient.is_flour and item.grams for item in self.items):
            return None
        return Formula(merged(self.items))

    def ahead(self) -> tuple[Kind, Formula] | None:
        """The recipe's one preferment; None where there is none, several, or one without flour."""
        found = [line for line in self.lines if line.ahead and line.items]
        kinds = {line.ahead for line in found}
        items = merged(tuple(item for line in found for item in line.items))
        if len(kinds) != 1 or not any(item.ingredient.is_flour and item.grams for item in items):
            return None
        return kinds.pop(), Formula(items)


def read_recipe(
    text: str,
    flour: float = FLOUR_OF_PERCENTAGES,
    answers: Mapping[str, Answer] | None = None,
    style: Style = PLAIN,
) -> Recipe:
    """Read a pasted recipe. `flour` (grams) is what a recipe of percentages alone is taken for.

    `answers` are the reader's own, by the text of the line. Takes time in proportion to the length.
    """
    cut = pieces(text)
    whole = _Whole(cut, flour, answers or {}, style)
    return whole.read()


# What is read of one piece before the whole recipe is known.


@dataclass
class _Whole:
    """All of a recipe's pieces, and what one of them tells about another."""

    cut: Sequence[Piece]
    flour: float
    answers: Mapping[str, Answer]
    style: Style
    bare: str = "g"
    said: list[str] = field(default_factory=list)
    offered: dict[str, tuple[Ingredient, ...]] = field(default_factory=dict)

    def read(self) -> Recipe:
        self.bare = self._bare()
        self.mostly_shares = self._mostly_shares()
        self.parts_ahead = {
            piece.part.ferments.key for piece in self.cut if piece.part.ferments and not piece.said
        }
        lines = [self._line(piece) for piece in self.cut]
        weighed = sum(i.grams for line in lines for i in line.items if i.ingredient.is_flour)
        shared = any(line.share for line in lines)
        # A starter's flour is flour too: it is taken apart by the kind of flour that is most.
        kind = self._commonest(lines)
        lines = [self._taken_apart(line, kind) for line in lines]
        base = weighed or self.flour
        lines = [self._of_flour(line, base, kind) for line in lines]
        is_percentages = shared and not weighed
        if is_percentages:
            grams = units.write(base, "mass", self.style)
            self.said.append(
                f"The recipe gives percentages only: the weights here are for {grams} of flour."
            )
        return Recipe(tuple(lines), tuple(self.said), is_percentages)

    def _bare(self) -> str:
        """What numbers alone are: percentages where the flour is 100 and nothing has a unit, else grams."""
        ingredients = [piece for piece in self.cut if not piece.said]
        alone = [p for p in ingredients if p.amounts and all(a.kind == "count" for a in p.amounts)]
        flours = [p for p in alone if any(each.is_flour for each in called(p.name).meant)]
        total = sum(piece.amounts[0].low for piece in flours)
        most = max((p.amounts[0].low for p in alone), default=0.0)
        if flours and abs(total - 100) < 0.5 and len(alone) == len(ingredients) and most <= 100:
            self.said.append(
                "No unit is written, and the flour is 100: the numbers are read as percentages of the flour."
            )
            return "%"
        if sum(piece.amounts[0].low >= 50 for piece in alone) >= 1:
            return "all g"
        return "g"

    def _mostly_shares(self) -> bool:
        """Whether percentages are how this recipe gives its amounts."""
        shares = [p for p in self.cut if p.amounts and all(a.kind == "share" for a in p.amounts)]
        others = [p for p in self.cut if any(a.kind in ("mass", "volume") for a in p.amounts)]
        return len(shares) >= 2 and len(shares) > len(others) / 2

    def _commonest(self, lines: Sequence[ReadLine]) -> Ingredient:
        totals: dict[Ingredient, float] = {}
        for line in lines:
            for item in line.items:
                if item.ingredient.is_flour:
                    totals[item.ingredient] = totals.get(item.ingredient, 0.0) + (
                        item.grams or line.share
                    )
        return max(totals, key=lambda each: totals[each]) if totals else composition.find("flour")

    def _taken_apart(self, line: ReadLine, flour: Ingredient) -> ReadLine:
        """A starter as its flour and water."""
        if not line.hydration or not line.items:
            return line
        grams = line.items[0].grams
        dry = grams / (1 + line.hydration)
        water = composition.find("water")
        parts = (Item(flour, dry), Item(water, grams - dry))
        return replace(line, items=parts, says=f"{line.says}{self._both(parts)}")

    def _both(self, parts: Sequence[Item]) -> str:
        return " and ".join(
            f"{units.write(i.grams, 'mass', self.style)} of {i.ingredient.name}" for i in parts
        )

    def _of_flour(self, line: ReadLine, base: float, kind: Ingredient) -> ReadLine:
        """A percentage as its weight."""
        if not line.share or not line.items:
            return line
        share = units.write_exact(line.share, "share", self.style)
        grams = line.share * base
        how = f"{share} of {units.write(base, 'mass', self.style)} of flour"
        item = Item(line.items[0].ingredient, grams)
        made = replace(line, items=(item,), says=self._sentence(item, how))
        return self._taken_apart(made, kind)

    def _sentence(self, item: Item, how: str = "") -> str:
        grams = units.write(item.grams, "mass", self.style)
        return f"{grams} of {item.ingredient.name}{f': {how}' if how else ''}"

    # One line.

    def _line(self, piece: Piece) -> ReadLine:
        if piece.said:
            return ReadLine(piece, "left", piece.said)
        answer = self.answers.get(piece.text, Answer())
        if answer.pick == LEAVE:
            return ReadLine(piece, "left", "left out, as you chose", choices=_TAKEN)
        read = self._piece(piece, answer)
        elsewhere = piece.part.kind in ("elsewhere", "method") or goes_elsewhere(piece.text)
        if elsewhere and answer.pick != USE:
            says = f"not in the dough{_what_for(piece.part)}"
            return ReadLine(piece, "left", says, choices=_TAKE_IN if read.items else ())
        if elsewhere:
            return replace(read, choices=_TAKE_IN)
        return replace(read, ahead=piece.part.ferments or read.ahead)

    def _piece(self, piece: Piece, answer: Answer) -> ReadLine:
        name, chosen = self._amounts_of(piece)
        meant = self._meant(piece, name, answer)
        if not meant:
            kind = ferments(" ".join((*piece.words, *piece.notes)))
            if kind:
                return self._starter(piece, kind, chosen, answer)
            return self._unknown(piece, chosen, answer)
        if len(meant) > 1:
            return self._either(piece, meant)
        if name and not chosen and not answer.pick and not answer.weighs:
            return self._of_that_fat_or_share(piece, meant[0])
        return self._weighed(piece, meant[0], chosen, answer)

    def _of_that_fat_or_share(self, piece: Piece, fatty: Ingredient) -> ReadLine:
        """“Milk 2 %” alone: milk with that fat, or so much of the flour."""
        share = next(one for one in piece.amounts if one.kind == "share")
        percent = units.write_exact(share.low, "share", self.style)
        choices = (
            Choice(f"weighs {100 * share.low:g} %", f"{percent} of the flour"),
            Choice(f"is {fatty.key}", f"{fatty.name}, without an amount"),
            Choice(LEAVE, "leave it out"),
        )
        says = f"Is {percent} how much there is, or which {fatty.name} it is?"
        return ReadLine(piece, "asked", says, asks="readings", choices=choices)

    def _amounts_of(self, piece: Piece) -> tuple[str, list[Amount]]:
        """The name that a percentage makes with a fat (2 % milk), where it does, and the amounts besides."""
        given = list(piece.amounts)
        for one in given:
            if one.kind != "share":
                continue
            others = [each for each in given if each is not one]
            percent = f"{100 * one.low:g} %"
            name = f"{percent} {piece.name}"
            known = called(name).meant
            if known and (others or not self.mostly_shares) and one.low < 1:
                return name, others
        return "", given

    def _meant(self, piece: Piece, name: str, answer: Answer) -> tuple[Ingredient, ...]:
        """The ingredients that a piece can mean: one where it is clear, none where nothing is called so."""
        if answer.called:
            return called(answer.called).meant
        if answer.pick.startswith("weighs ") and answer.pick.endswith("%"):
            return called(piece.name).meant
        if answer.pick.startswith("is "):
            return called(answer.pick.removeprefix("is ")).meant
        if not name and _states_fat(piece):
            return ()
        either = alternatives(" ".join((*piece.words, *piece.notes)))
        if either and "or" in piece.notes:
            return either
        notes = () if is_note(" ".join(piece.notes)) else piece.notes
        noted = " ".join((*piece.words, *notes))
        found = called(*filter(None, (name, noted, piece.name))).meant
        if not found and is_preparation(piece.words[len(piece.head) :]):
            found = called(" ".join(piece.head)).meant
        return self._dry_yeast(piece, found) if found else alternatives(piece.name)

    def _dry_yeast(self, piece: Piece, found: tuple[Ingredient, ...]) -> tuple[Ingredient, ...]:
        """Yeast by the spoon or sachet is dry yeast."""
        spooned = any(one.kind in ("volume", "pack") for one in piece.amounts)
        packed = any(
            word.casefold() in ("sachet", "sachets", "packet", "packets") for word in piece.words
        )
        if (
            found[0].key == "fresh-yeast"
            and (spooned or packed)
            and "fresh" not in piece.text.casefold()
        ):
            return called("dry yeast").meant
        return found

    def _unknown(self, piece: Piece, chosen: list[Amount], answer: Answer) -> ReadLine:
        words = (*piece.words, *piece.notes)
        if to_taste(piece.text) and not chosen:
            return ReadLine(piece, "left", "no amount: to taste")
        if not words:
            return ReadLine(piece, "left", "an amount without an ingredient")
        if not chosen and len(words) > 8:
            return ReadLine(piece, "left", "a sentence without an amount")
        asked = answer.called or called(piece.name).asked or piece.name
        near = self._near(asked, piece)
        choices = (
            *(Choice(f"is {each.key}", each.name) for each in near),
            Choice(LEAVE, "leave it out"),
        )
        says = f"What is “{asked[:60]}”? No ingredient of the table is called that."
        return ReadLine(piece, "asked", says, asks="ingredient", choices=choices)

    def _near(self, asked: str, piece: Piece) -> tuple[Ingredient, ...]:
        """The rows to offer for a name that no row has; of many such names, only for the first."""
        plain = without_type(" ".join(word for word in asked.split() if word.casefold() != "fat"))
        if plain not in self.offered and len(self.offered) < MOST_OFFERS:
            self.offered[plain] = tuple(composition.ranked(plain, 0.6)[:4])
        head = called(" ".join(piece.head)).meant
        return tuple(dict.fromkeys((*head, *self.offered.get(plain, ()))))

    def _either(self, piece: Piece, meant: Sequence[Ingredient]) -> ReadLine:
        choices = (
            *(Choice(f"is {each.key}", each.name) for each in meant),
            Choice(LEAVE, "leave it out"),
        )
        return ReadLine(piece, "asked", "Which of these is it?", asks="readings", choices=choices)

    def _weighed(
        self, piece: Piece, ingredient: Ingredient, chosen: list[Amount], answer: Answer
    ) -> ReadLine:
        answered = answer.pick.startswith("is ") or bool(answer.called)
        again = _pick_again(ingredient) if answered else ()
        if answer.weighs:
            return self._own_weight(piece, ingredient, answer.weighs)
        offered = self._offered(piece, ingredient)
        if answer.pick in [one.value for one in offered]:
            return self._own_weight(piece, ingredient, answer.pick.removeprefix("weighs "), offered)
        if answer.pick.endswith("%"):
            return self._own_weight(piece, ingredient, answer.pick.removeprefix("weighs "))
        amount, doubts = self._one_amount(piece, ingredient, chosen)
        if doubts and answer.pick.startswith("weighs "):
            return self._own_weight(piece, ingredient, answer.pick.removeprefix("weighs "), doubts)
        if doubts:
            return ReadLine(
                piece,
                "asked",
                f"How much {ingredient.name} is it?",
                asks="readings",
                choices=doubts,
            )
        if amount is None:
            return self._ask_weight(piece, ingredient, "There is no amount. How much is it?")
        if amount.kind == "share":
            item = Item(ingredient, 0.0)
            return ReadLine(
                piece, "read", ingredient.name, (item,), share=amount.middle, choices=again
            )
        try:
            weight = self._weight(piece, amount, ingredient)
        except ReadingError as error:
            return self._ask_weight(piece, ingredient, str(error))
        item = Item(ingredient, weight.grams, weight.around)
        says = self._sentence(item, self._how(piece, weight, ingredient))
        return ReadLine(piece, "read", says, (item,), choices=again, typed=weight.typed)

    def _how(self, piece: Piece, weight: Weight, ingredient: Ingredient) -> str:
        dry = ingredient.key == "dry-yeast" and "dr" not in piece.name.casefold()
        told = filter(None, (weight.how, "yeast by the spoon or sachet is dry" if dry else ""))
        return re.sub(r"(?<=\d)\.(?=\d)", self.style.decimal, "; ".join(told))

    def _weight(self, piece: Piece, amount: Amount, ingredient: Ingredient) -> Weight:
        words = [word.casefold() for word in (*piece.words, *piece.notes)]
        weight = weigh(amount, ingredient, words)
        for more in piece.sums if amount.note != "in brackets" else ():
            other = weigh(more, ingredient, words)
            around = None
            if weight.around or other.around:
                ends = [each.around or Interval.exactly(each.grams) for each in (weight, other)]
                around = ends[0] + ends[1]
            weight = Weight(weight.grams + other.grams, around, weight.how)
        return weight

    def _own_weight(
        self, piece: Piece, ingredient: Ingredient, text: str, choices: tuple[Choice, ...] = ()
    ) -> ReadLine:
        """A weight that the reader wrote."""
        found = [one for one in amounts(tokens(text[:60])) if one.kind != "other"]
        first = found[0] if found else None
        if first and first.kind == "count":
            first = replace(first, kind="mass")
        if first and first.kind == "share":
            return ReadLine(
                piece,
                "read",
                ingredient.name,
                (Item(ingredient, 0.0),),
                share=first.middle,
                choices=choices,
                has_weight_field=not choices,
            )
        try:
            weight = weigh(first, ingredient) if first else None
        except ReadingError as error:
            return self._ask_weight(piece, ingredient, str(error))
        if weight is None:
            return self._ask_weight(piece, ingredient, "I cannot read a weight there.")
        item = Item(ingredient, weight.grams, weight.around)
        return ReadLine(
            piece,
            "read",
            self._sentence(item, "as you chose" if choices else "as you wrote"),
            (item,),
            choices=choices,
            has_weight_field=not choices,
        )

    def _ask_weight(self, piece: Piece, ingredient: Ingredient, says: str) -> ReadLine:
        text = f"{ingredient.name}: {says}"
        leave = self._offered(piece, ingredient) or (Choice(LEAVE, "leave it out"),)
        return ReadLine(piece, "asked", text, asks="amount", choices=leave, has_weight_field=True)

    def _offered(self, piece: Piece, ingredient: Ingredient) -> tuple[Choice, ...]:
        """What an amount usually is that a recipe leaves open; nothing where nobody can say."""
        packs = sum(one.middle for one in piece.amounts if one.kind == "pack")
        if ingredient.key in _SACHETS and packs:
            grams = packs * SACHET
            label = f"{units.write_exact(grams, 'mass', self.style)}: a sachet often holds 7 g, read yours"
            usual = Choice(f"weighs {grams:g} g", label)
        elif ingredient.group == "salt" and not piece.amounts:
            percent = units.write_exact(USUAL_SALT, "share", self.style)
            usual = Choice(
                f"weighs {100 * USUAL_SALT:g} %", f"{percent} of the flour, as usual in bread"
            )
        else:
            return ()
        return usual, Choice(LEAVE, "leave it out")

    def _starter(self, piece: Piece, kind: Kind, chosen: list[Amount], answer: Answer) -> ReadLine:
        """A preferment as an ingredient: one that the recipe has made above is counted there."""
        above = kind.key in self.parts_ahead or (
            self.parts_ahead and kind.key in ("sponge", "liquid-starter", "stiff-starter")
        )
        if above and piece.part.kind != "ahead":
            return ReadLine(
                piece, "left", f"the {kind.name}’s flour and water are counted in its own lines"
            )
        wet = [one for one in piece.amounts if one.kind == "share"]
        wet.sort(key=lambda one: one.note != "in brackets")
        told = "hydration" in piece.text.casefold()
        hydration = wet[0].middle if wet and told and wet[0].middle else kind.usual
        rest = [one for one in chosen if not (told and one in wet[:1])]
        masses = [one for one in rest if one.kind == "mass"]
        text = answer.weighs or ""
        if text:
            masses = [one for one in amounts(tokens(text[:60])) if one.kind in ("mass", "count")]
        share = next((one for one in rest if one.kind == "share"), None)
        water = composition.find("water")
        how = "as it says" if wet and told else "as usual"
        percent = units.write_exact(hydration, "share", self.style)
        says = f"{kind.name} with {percent} hydration, {how}: "
        if masses:
            item = Item(water, masses[0].middle)
            return ReadLine(
                piece,
                "read",
                says,
                (item,),
                hydration=hydration,
                ahead=kind,
                has_weight_field=bool(text),
            )
        if share:
            return ReadLine(
                piece,
                "read",
                says,
                (Item(water, 0.0),),
                share=share.middle,
                hydration=hydration,
                ahead=kind,
            )
        return ReadLine(
            piece, "asked", f"How much {kind.name} is it?", asks="amount",
            choices=(Choice(LEAVE, "leave it out"),), has_weight_field=True,
        )  # fmt: skip

    # Amounts.

    def _one_amount(
        self, piece: Piece, ingredient: Ingredient, chosen: list[Amount]
    ) -> tuple[Amount | None, tuple[Choice, ...]]:
        """The amount that counts among those of a line; or the choices, where two may be meant."""
        for kind in ("mass", "volume"):
            found = [one for one in chosen if one.kind == kind]
            found.sort(key=lambda one: kind == "volume" and one.unit not in _METRIC)
            if (
                len(found) > 1
                and found[0].note != "in brackets" != found[1].note
                and " or " in piece.text
            ):
                return None, tuple(
                    _weight_choice(weigh(one, ingredient).grams, self.style) for one in found
                )
            if found:
                return self._times_count(piece, ingredient, chosen, found[0])
        for kind in ("share", "vague", "pack", "count"):
            found = [one for one in chosen if one.kind == kind]
            if found:
                return self._bare_number(ingredient, found[0]), ()
        return None, ()

    def _times_count(
        self, piece: Piece, ingredient: Ingredient, chosen: list[Amount], one: Amount
    ) -> tuple[Amount | None, tuple[Choice, ...]]:
        """Two cans of 400 g: each, or both? And 1,300 g: thirteen hundred, or a little more than one?"""
        if one.doubt:
            return None, tuple(_weight_choice(each, self.style) for each in one.doubt)
        first = chosen[0]
        if first is one or first.kind not in ("pack", "count") or first.middle == 1:
            return one, ()
        count, each_of_it = first.middle, one.middle
        between = one.start - first.end
        says_each = "each" in piece.text.casefold().split() or "each)" in piece.text.casefold()
        if ingredient.key in household.EGGS and first.kind == "count":
            is_each = (
                _AN_EGG[0] <= each_of_it <= _AN_EGG[1]
                and not _AN_EGG[0] <= each_of_it / count <= _AN_EGG[1]
            )
            return (one.times(count) if is_each else one), ()
        if (
            says_each
            or (one.note != "in brackets" and 0 <= between <= 1)
            or self._brackets_first(piece)
        ):
            return one.times(count), ()
        if one.kind == "volume":
            return one, ()
        return None, tuple(
            _weight_choice(each, self.style) for each in (one.middle, count * one.middle)
        )

    def _brackets_first(self, piece: Piece) -> bool:
        """“2 (7 g) sachets”: the brackets follow the count at once."""
        opened = piece.text.find("(")
        return opened > 0 and not any(letter.isalpha() for letter in piece.text[:opened])

    def _bare_number(self, ingredient: Ingredient, one: Amount) -> Amount:
        """A number alone as grams or a percentage, where it is no count."""
        if one.kind != "count" or ingredient.key in household.EGGS:
            return one
        if self.bare == "%":
            return replace(one, kind="share", low=one.low / 100, high=one.high / 100)
        counted = ingredient.group in _COUNTED_GROUPS and one.low < 20
        if not counted and (self.bare == "all g" or one.low >= _LEAST_BARE):
            return replace(one, kind="mass", note="no unit is written")
        return one


def _what_for(part: Part) -> str:
    """Of a part that is not in the dough what it is for: “: for the glaze”; nothing of the method."""
    if part.kind != "elsewhere":
        return ""
    return f": {part.name}" if part.name.casefold().startswith("for") else f": for the {part.name}"


_TAKEN = (Choice(LEAVE, "leave it out"), Choice("", "as it was read"))
_TAKE_IN = (Choice("", "not in the dough"), Choice(USE, "it goes into the dough"))


def _states_fat(piece: Piece) -> bool:
    """Whether a piece states its fat (1.5 % fat): where no row is called so, none is taken for it."""
    words = [word.casefold() for word in (*piece.words, *piece.notes)]
    return (
        "fat" in words
        and len(piece.amounts) > 1
        and any(one.kind == "share" for one in piece.amounts)
    )


def _pick_again(ingredient: Ingredient) -> tuple[Choice, ...]:
    return (
        Choice(f"is {ingredient.key}", ingredient.name),
        Choice(LEAVE, "leave it out"),
        Choice("", "ask again"),
    )


def _weight_choice(grams: float, style: Style) -> Choice:
    return Choice(f"weighs {grams:g} g", units.write_exact(grams, "mass", style))
