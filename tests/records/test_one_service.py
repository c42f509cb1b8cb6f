"""Order, countdown, alarm, strip and result of a zone agree, on random services to their end.

Each seed is one client with one to three zones on, run through the page's own code against the
real server: looks, looks that hardly any such head could show and their answers, looks taken back,
other grams, moved clocks, early rinses, and the same again six weeks later. After each act the
window of the clock is the strip's bracket, the order's minutes are the countdown's and the
alarm's, and each colour is the server's own, asked past the page, to 1e-9 in L*, a* and b*.
Each zone has an amount of its own, from a tenth of its mix to twice of it: the bowl, the frozen
block that paper and the desk read, and a formula that is kept say what was weighed, with its line.
"""

from drawing import seeds
from pages_code import assert_every_seed_holds

SERVICES = seeds(300, parts=30)


def test_a_service_has_one_order_one_countdown_one_strip_and_one_result(served):
    # One more asks whether all that may happen was drawn, where enough was drawn to tell.
    assert_every_seed_holds("basin", SERVICES, __file__, beside=1, SERVER=served)
