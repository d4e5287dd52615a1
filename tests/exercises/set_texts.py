"""Sets as a teacher writes them, for the tests."""

from exercises.draws import draw
from exercises.problems import read_set

GOOD = """\
# A set of my own
title: My set
version: 1
problems:
  - id: one-loaf
    title: One loaf
    story: "{flour} flour at {hydration}, with {liquid}."
    ask: new liquid
    givens:
      flour: {from: 400 g, to: 600 g, step: 50 g}
      hydration: [62 %, 65 %]
      liquid: [buttermilk, "thick yogurt, 74 % water"]
"""


EVERY_KIND = """\
title: Every kind
version: 1
problems:
  - id: why
    title: Which is drier?
    ask: choice
    story: Two doughs, the same flour. One takes 300 g of milk, the other 300 g of water.
    questions:
      - ask: Which dough is drier?
        options:
          - {text: the milk dough, right: yes, because: Milk is not all water.}
          - {text: the water dough, because: Water is all water.}
          - {text: they are the same}
      - ask: Why?
        options:
          - {text: milk weighs more}
          - {text: part of the milk is not water, right: yes}
  - id: order
    title: The wettest first
    ask: order
    by: water content
    story: Put them in order, the one with most water first.
    items: [sour-cream, water, whole-milk, heavy-cream]
  - id: table
    title: The whole formula
    ask: converted formula
    story: "{flour} of flour, {hydration}, {liquid}, salt {salt}, {yeast} yeast, {sugar} sugar, butter {butter}."
    hint cost: [0, 0.5, 1]
    givens:
      flour: 500 g
      hydration: 65 %
      liquid: "a drink, 80 % water"
      salt: 2 %
      yeast: 1 %
      sugar: 5 %
      butter: 10 %
"""
EVERY = read_set(EVERY_KIND, "every.yml")


def drawn(problem_id, student="Ada"):
    return draw(EVERY, EVERY.problem(problem_id), student)


POOL = """\
title: Pools
version: 1
problems:
  - id: pick
    title: Which bread?
    ask: choice
    level: 2
    story: A guest is allergic to milk.
    questions:
      - ask: Which liquid is safe for this guest?
        show: 3
        options:
          - {text: water, right: yes}
          - {text: apple juice, right: yes}
          - {text: buttermilk}
          - {text: cream}
          - {text: whole milk}
  - id: order
    title: The wettest first
    ask: order
    by: water content
    story: Put them in order.
    items: [water, whole-milk, sour-cream, heavy-cream, egg, butter]
    show: 4
"""
