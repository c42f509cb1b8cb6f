"""Which rules wait until a mix is chosen: nobody can know before what they ask."""

from functools import cache

from .conditions import facts_in
from .rulebook import condition_of

# What only the chosen mix decides. A spot that reacted is none of these: it counts for every line.
_OF_THE_MIX = frozenset({
    "developer_percent", "on_head_percent", "over_scalp_strength", "heat", "heat_allowed",
    "leaflet_version", "labelled", "label_caution", "nh3_percent", "powder_or_ammonia",
    "test_missing", "test_other_line", "new_to_client",
})  # fmt: skip


@cache
def is_about_the_mix(rule_id: str) -> bool:
    """Return whether a rule looks at what only a chosen mix can answer."""
    return not _OF_THE_MIX.isdisjoint(facts_in(condition_of(rule_id)))
