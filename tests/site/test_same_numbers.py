"""The page's own `calc`, run in the browser's Python, gives CPython's numbers to the last bit."""

import json

import pytest

# Runs unchanged in both Pythons: every quantity over a table of cases, in full precision.
CASES = """
import itertools, json
from calc import composition, formula
from calc.formula import MEANINGS, Formula, Item
from calc.quantities import REGISTRY
from calc.substitution import swap

numbers = {"flour": (140.0, 733.3, 2500.0), "hydration": (0.55, 0.68), "part": (0.3,),
           "liquid weight": (95.2, 610.0), "other ingredients": (41.0,), "percentage": (0.018,)}
liquids = ["buttermilk", "sour-cream", "heavy-cream", "egg"]
found = []
for _, quantity in sorted(REGISTRY.items()):
    choices = [[composition.find(k) for k in liquids] if slot.kind == "ingredient" else numbers.get(slot.name, (0.9 * slot.low + 0.1 * slot.high,))
               for slot in quantity.slots]
    for picked in itertools.product(*choices):
        try:
            working = quantity.working(dict(zip([s.name for s in quantity.slots], picked)))
        except ValueError as refusal:
            found.append([quantity.name, str(refusal)])
            continue
        bounds = working.bounds()
        found.append([quantity.name, {k: repr(v) for k, v in working.values().items()},
                      {k: [repr(b.low), repr(b.high)] for k, b in bounds.items()},
                      [working.sentence(k) for k in working.steps]])
for new in composition.table().values():
    if new.is_liquid and new.water:
        items = [Item(composition.find(k), g) for k, g in
                 [("bread-flour", 500.0), ("water", 325.0), ("butter", 33.3), ("salt", 9.9)]]
        done = swap(Formula(tuple(items)), "water", new, 0.7, 1.0)
        found.append([new.key, [repr(i.grams) for i in done.after.items],
                      [repr(formula.hydration(done.after, m.key).values()["hydration"]) for m in MEANINGS]])
result = json.dumps(found)
"""


ASK = """async ({plain, codes}) => {
  const worker = new Worker(new URL('engine/worker.js', document.baseURI), {type: 'module'});
  const printed = [];
  return new Promise((resolve, reject) => {
    const ask = () => worker.postMessage(
      {id: printed.length, library: true, request: JSON.stringify({part: 'python-cell', fields: {code: codes[printed.length]}})});
    let start;
    worker.onmessage = ({data}) => {
      if (data.error) reject(data.error);
      if (data.how) start = data.how;
      if (!data.answer) return;
      printed.push(JSON.parse(data.answer).text);
      if (printed.length < codes.length) ask();
      else resolve({start, printed});
    };
    const {port1: leave} = new MessageChannel();
    worker.postMessage({start: true, leave, plain}, [leave]);
    ask();
  });
}"""
# A cell prints no more than this at once.
PIECE = 15_000


@pytest.mark.parametrize("start", ["snapshot", "plain"])
def test_the_browsers_numbers_are_cpythons(page, address, start):
    here: dict = {}
    exec(CASES, here)
    expected = here["result"]
    pieces = range(0, len(expected), PIECE)
    codes = [
        CASES + "\nimport builtins; builtins.found = result",
        *(f"import builtins; print(builtins.found[{at}:{at + PIECE}], end='')" for at in pieces),
    ]
    page.goto(address)
    done = page.evaluate(ASK, {"plain": start == "plain", "codes": codes})
    assert done["start"] == start
    assert json.loads("".join(done["printed"])) == json.loads(expected)
    assert len(json.loads(expected)) > 150
