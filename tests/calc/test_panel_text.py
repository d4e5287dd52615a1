"""Whole panels as text, in the layouts that packs have. The packs are invented."""

import pytest

from calc.label import read_panel, water_content
from calc.panel_energy import fits, read_energy
from calc.panel_text import LONGEST_PASTE, read_text

US = """Nutrition Facts
about 8 servings per container
Serving size
2/3 cup (170g)
Amount per serving
Calories 130
% Daily Value*
Total Fat 3.5g 5%
  Saturated Fat 2g 10%
  Trans Fat 0g
Cholesterol 15mg 5%
Sodium 65mg 3%
Total Carbohydrate 11 g 4%
Dietary Fiber less than 1g 2%
Total Sugars 6g
Includes 0g Added Sugars 0%
Protein 15g
Vitamin D 0mcg 0% Calcium 187mg 15%
* The % Daily Value (DV) tells you how much a nutrient in a serving of food contributes to a daily diet."""
US_TWO_COLUMNS = """Nutrition Facts Serv. Size 1 cup (240mL) Servings about 4
Amount/serving %DV* Amount/serving %DV*
Total Fat 8g 10% Total Carb. 12g 4%
Sat. Fat 5g 25% Fiber 0g 0%
Trans Fat 0g Sugars 12g
Cholest. 35mg 12% Protein 8g
Sodium 1,125mg 49%"""
EU_TABLE = """Nutrition\tper 100 g\tper serving (150 g)
Energy\t272 kJ / 65 kcal\t408 kJ / 98 kcal
Fat\t3,5 g\t5,3 g
of which saturates\t2,2 g\t3,3 g
Carbohydrate\t4,7 g\t7,1 g
of which sugars\t4,7 g\t7,1 g
Fibre\t<0,5 g\t<0,5 g
Protein\t3,3 g\t5,0 g
Salt\t0,10 g\t0,15 g"""
EU_SERVING_FIRST = """Typical values per glass (250 ml) per 100ml
Energy 488kJ/116kcal 195kJ/46kcal
Fat 3.8g 1.5g
of which saturates 0.5g 0.2g
Carbohydrate 17g 6.6g
of which sugars 8.0g 3.2g
Fibre 3.5g 1.4g
Protein trace trace
Salt 0.28g 0.11g"""
EU_ONE_BELOW_THE_OTHER = """per 100 ml
Energy
195kJ/46kcal
Fat
1.5g
of which saturates
0.2g
Carbohydrate
6.6g
of which sugars
3.2g
Protein
0.2g
Salt
0.11g"""
EU_IN_A_SENTENCE = (
    "Energy 260 kJ/62 kcal, Fat 3.5 g (of which saturates 2.3 g), Carbohydrate 4.7 g "
    "(of which sugars 4.7 g), Protein 3.3 g, Salt 0.1 g per 100 g"
)
AUSTRALIA = """NUTRITION INFORMATION
Servings per package: 3
Serving size: 150g
Quantity per Serving / Quantity per 100 g
Energy 608 kJ 405 kJ
Protein 4.2 g 2.8 g
Fat, total 6.0 g 4.0 g
– saturated 4.5 g 3.0 g
Carbohydrate 18.6 g 12.4 g
– sugars 18.6 g 12.4 g
Sodium 90 mg 60 mg"""
CANADA = """Nutrition Facts
Per 1 cup (250 mL)
Calories 110 % Daily Value*
Fat 2.5 g 3 %
Saturated 1.5 g
Carbohydrate 12 g
Fibre 0 g 0 %
Protein 9 g
Sodium 115 mg 5 %"""
INDIA = """Nutritional information (approx.) per 100g
Energy (kcal) 61
Protein (g) 3.1
Carbohydrate (g) 4.5, of which sugars (g) 4.5
Total fat (g) 3.5
Sodium (mg) 40"""


@pytest.mark.parametrize(
    ("text", "basis", "fields"),
    [
        (US, "us", {"serving": "2/3 cup (170g)", "energy": "130 kcal", "fat": "3.5g", "carbohydrate": "11 g",
                    "fibre": "less than 1g", "sugars": "6g", "protein": "15g", "sodium": "65mg"}),
        (US_TWO_COLUMNS, "us", {"serving": "1 cup (240mL)", "fat": "8g", "carbohydrate": "12g", "fibre": "0g",
                                "sugars": "12g", "protein": "8g", "sodium": "1,125mg"}),
        (EU_TABLE, "eu-g", {"energy": "272 kJ / 65 kcal", "fat": "3,5 g", "carbohydrate": "4,7 g",
                            "sugars": "4,7 g", "fibre": "<0,5 g", "protein": "3,3 g", "salt": "0,10 g"}),
        (EU_SERVING_FIRST, "eu-ml", {"energy": "195kJ / 46kcal", "fat": "1.5g", "carbohydrate": "6.6g", "sugars": "3.2g",
                                     "fibre": "1.4g", "protein": "trace", "salt": "0.11g"}),
        (EU_ONE_BELOW_THE_OTHER, "eu-ml", {"energy": "195kJ / 46kcal", "fat": "1.5g", "carbohydrate": "6.6g",
                                           "sugars": "3.2g", "protein": "0.2g", "salt": "0.11g"}),
        (EU_IN_A_SENTENCE, "eu-g", {"energy": "260 kJ / 62 kcal", "fat": "3.5 g", "carbohydrate": "4.7 g",
                                    "sugars": "4.7 g", "protein": "3.3 g", "salt": "0.1 g"}),
        (AUSTRALIA, "eu-g", {"energy": "405 kJ", "protein": "2.8 g", "fat": "4.0 g", "carbohydrate": "12.4 g",
                             "sugars": "12.4 g", "salt": "60 mg sodium"}),
        (CANADA, "us", {"serving": "1 cup (250 mL)", "energy": "110 kcal", "fat": "2.5 g", "carbohydrate": "12 g",
                        "fibre": "0 g", "protein": "9 g", "sodium": "115 mg"}),
        (INDIA, "eu-g", {"energy": "61 kcal", "protein": "3.1 g", "carbohydrate": "4.5 g", "sugars": "4.5 g",
                         "fat": "3.5 g", "salt": "40 mg sodium"}),
    ],
)  # fmt: skip
def test_fills_the_fields(text, basis, fields):
    found = read_text(text)
    assert (found.basis, found.fields) == (basis, fields)
    assert found.not_understood == []


@pytest.mark.parametrize(
    "text", [US, US_TWO_COLUMNS, EU_TABLE, EU_SERVING_FIRST, AUSTRALIA, CANADA, INDIA]
)
def test_what_it_fills_in_can_be_read(text):
    found = read_text(text)
    fields = dict(found.fields)
    energy = fields.pop("energy", "")
    panel = read_panel(found.basis, "any", **fields)
    assert 0.5 < water_content(panel).value < 1
    if energy:
        assert fits(panel, read_energy(energy, us=found.basis == "us"))


def test_a_panel_in_one_line_is_read_as_one():
    found = read_text(
        "Serving size 1 cup (240 mL) Calories 150 Total Fat 8g 10% Sodium 105mg Total Carbohydrate 12g Protein 8g"
    )
    assert found.fields["serving"] == "1 cup (240 mL)"
    assert found.fields["fat"] == "8g"
    assert found.fields["energy"] == "150 kcal"


def test_nothing_is_dropped_in_silence():
    """Every word and figure of the text is in a field or in what is left over."""
    found = read_text(
        "Fat 3.5 g\nGlow factor 7 zings\nSalt 0.1 g\nCalcium 120 mg\nBest before 12.03.2027"
    )
    assert found.not_understood == ["Glow factor 7 zings", "Best before 12.03.2027"]
    assert found.not_needed == ["Calcium 120 mg"]


@pytest.mark.parametrize(
    ("text", "fields"),
    [
        ("Fat3.5g\nProtein3.3g", {"fat": "3.5g", "protein": "3.3g"}),
        ("Energy (kJ/kcal) 1046/250\nFat 3 g", {"energy": "1046 kj / 250 kcal", "fat": "3 g"}),
        ("Energy 1 046 kJ\nFat 3 g", {"energy": "1 046 kJ", "fat": "3 g"}),
        ("Per serving Per container\nCalories 220 440\nTotal Fat 5g 6% 10g 13%", {"energy": "220 kcal", "fat": "5g"}),
        ("Total Fat\n8g\n10%\nProtein\n8g", {"fat": "8g", "protein": "8g"}),
        ("Fat\nCarbohydrate\nProtein\n3.5 g\n4.7 g\n3.3 g", {"fat": "3.5 g", "carbohydrate": "4.7 g", "protein": "3.3 g"}),
        ("Energy\nFat\nSalt\n272 kJ", {}),
        ("| Fat | 3.5 g |\n|---|---|\n| Protein | 3.3 g |", {"fat": "3.5 g", "protein": "3.3 g"}),
        ("Fat 0g, Protein 0.4g. Alc. 5.0% vol", {"fat": "0g", "protein": "0.4g", "alcohol": "5.0%"}),
    ],
)  # fmt: skip
def test_other_ways_of_setting_a_panel(text, fields):
    assert read_text(text).fields == fields


def test_a_name_without_its_figure_is_told():
    assert read_text("Fat\nProtein 3 g").not_understood == ["Fat"]


def test_the_letter_o_of_a_photograph_is_a_zero():
    assert read_text("Fat Og\nProtein 3g").fields["fat"] == "0g"


def test_names_in_two_languages():
    found = read_text(
        "per 100 g\nFat / Matières grasses 3,5 g\nProtein / Protéines 3,3 g\nSalt / Sel 0,1 g"
    )
    assert (found.fields["fat"], found.fields["protein"], found.fields["salt"]) == (
        "3,5 g",
        "3,3 g",
        "0,1 g",
    )


@pytest.mark.parametrize(
    "text",
    ["", "\n" * 9000, "fat " * 3000, "1.1" * 4000, "(1" * 4000, "per " * 3000, "<" * 9000, "serving size " * 900,
     "% daily value " * 900, "Fat 3 g\n" * 3000, "1" * 9000],
)  # fmt: skip
def test_any_text_is_read_to_its_end(text):
    found = read_text(text)
    kept = " ".join([*found.fields.values(), *found.not_needed, *found.not_understood])
    assert len(text.strip()) < 2 or kept
    assert len(kept) <= 4 * max(len(text), LONGEST_PASTE)
