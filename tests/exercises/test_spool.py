"""What waits on disk comes back in any order, letter for letter."""

import io

from hypothesis import given
from hypothesis import strategies as st

from exercises.spool import Spool


@given(st.lists(st.text(st.characters(exclude_categories=["Cs"]))), st.randoms())
def test_pieces_come_back_in_any_order(pieces, chance):
    with Spool() as spool:
        assert [spool.add(piece) for piece in pieces] == list(range(len(pieces)))
        order = list(range(len(pieces)))
        chance.shuffle(order)
        out = io.StringIO(newline="")
        spool.copy(out, order)
        assert out.getvalue() == "".join(pieces[n] for n in order)
        spool.add("last")
        again = io.StringIO(newline="")
        spool.copy(again)
        assert again.getvalue() == "".join(pieces) + "last"
