"""The allergens that the table's words stand for, as the laws of the US, the EU and the UK name them.

US: the nine major food allergens of the Federal Food, Drug, and Cosmetic Act, section 201(qq), as
amended by FALCPA (2004) and the FASTER Act (2021); names as on the FDA's page "What is a major food
allergen?". EU and UK: the fourteen entries of Regulation (EU) 1169/2011, annex II, which the UK's
Food Information Regulations 2014 apply; read in public French and Polish copies, the English wording
from memory, the exceptions of some entries left out.
"""

from __future__ import annotations

from dataclasses import dataclass

# The names of the two lists, in their order.
US = (
    "Milk", "Egg", "Fish", "Crustacean shellfish", "Tree nuts", "Wheat", "Peanuts", "Soybeans",
    "Sesame",
)  # fmt: skip
EU = (
    "Cereals containing gluten, namely: wheat, rye, barley, oats or their hybridised strains, "
    "and products thereof",
    "Crustaceans and products thereof",
    "Eggs and products thereof",
    "Fish and products thereof",
    "Peanuts and products thereof",
    "Soybeans and products thereof",
    "Milk and products thereof (including lactose)",
    "Nuts, namely: almonds, hazelnuts, walnuts, cashews, pecan nuts, Brazil nuts, pistachio nuts, "
    "macadamia or Queensland nuts, and products thereof",
    "Celery and products thereof",
    "Mustard and products thereof",
    "Sesame seeds and products thereof",
    "Sulphur dioxide and sulphites at concentrations of more than 10 mg/kg or 10 mg/litre in "
    "terms of the total SO2",
    "Lupin and products thereof",
    "Molluscs and products thereof",
)


@dataclass(frozen=True)
class Allergen:
    """One of the table's words: what it is called here and, where a law lists it, there."""

    word: str
    name: str
    us: str = ""
    eu: str = ""
    note: str = ""


_COCONUT = (
    "Neither list names coconut: the FDA took it out of the tree nuts in its guidance of January "
    "2025. Some people react to it all the same."
)
# The EU's list wants each cereal by its name: a wheat dough that takes an oat drink has one more.
_CEREALS = (
    "In the US, wheat is on the list; rye, barley and oats are not. People with coeliac disease avoid "
    "wheat, rye and barley, and oats that are not sold as gluten-free."
)
# What people hope of lactose-free milk.
_MILK = "Lactose-free milk is milk: the allergy is to its protein."
# Each of the table's words, by itself.
ALLERGENS = {
    each.word: each
    for each in (
        Allergen("milk", "milk", US[0], EU[6], _MILK),
        Allergen("egg", "egg", US[1], EU[2]),
        Allergen("fish", "fish", US[2], EU[3]),
        Allergen("crustacean", "crustaceans", US[3], EU[1]),
        Allergen("tree-nut", "tree nuts", US[4], EU[7], "Say which nut."),
        Allergen("almond", "almond", US[4], EU[7]),
        Allergen("wheat", "wheat", US[5], EU[0]),
        Allergen(
            "gluten",
            "gluten",
            "",
            EU[0],
            _CEREALS,
        ),
        Allergen("rye", "rye", "", EU[0], _CEREALS),
        Allergen("barley", "barley", "", EU[0], _CEREALS),
        Allergen("oats", "oats", "", EU[0], _CEREALS),
        Allergen("peanut", "peanut", US[6], EU[4]),
        Allergen("soy", "soy", US[7], EU[5]),
        Allergen("sesame", "sesame", US[8], EU[10]),
        Allergen("celery", "celery", "", EU[8]),
        Allergen("mustard", "mustard", "", EU[9]),
        Allergen(
            "sulphites",
            "sulphites",
            "",
            EU[11],
            "US labels name sulphites too, by another rule.",
        ),
        Allergen("lupin", "lupin", "", EU[12]),
        Allergen("mollusc", "molluscs", "", EU[13]),
        Allergen("coconut", "coconut", note=_COCONUT),
    )
}
