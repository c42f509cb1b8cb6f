"""The page's own gate, walked in random orders against the real server: it opens for nothing else.

Each seed is two services on one phone: answers given, taken back and lowered, tests written down,
plans changed, calls lost, broken off and too late, and the clock's button tapped in between; and a
file imported, in which another phone started a service that the rules hold. Held: grams and clock
are open only where the rules said so of what is on record at that moment, and never against what
was said last, on the service's own page, among formulas and on prints; and nothing stands before
rinsing and the end. One seed gives one
history, however busy the machine is.
"""

from drawing import seeds, tenth
from pages_code import assert_every_seed_holds

WALKS = seeds(40)


def test_nothing_opens_the_gate_but_an_answer_to_what_is_on_record(served):
    # Two more ask whether a seed gives one history, and whether the walks came anywhere.
    assert_every_seed_holds("gate", WALKS, __file__, beside=2, SERVER=served, RUNS=str(tenth(50)))
