"""Four hundred salon cases, answered from an invented shelf of sixty tubes in four lines.

    python tests/engine/salon_grid.py

writes the answers to salon_answers.tsv, one case a line, for a colourist to read. A change of the
engine shows there as a diff.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from multiprocessing import Pool
from pathlib import Path

from msgspec import UNSET

from basinside.contract.formulations import FormulationReply, FormulationRequest, Limits
from basinside.contract.hair import Hair, OtherHair
from basinside.contract.mixes import Mix, Part
from basinside.contract.products import MinuteSpan, Product, ProductClass
from basinside.contract.wishes import Wish
from basinside.engine.formulation.formulate import formulate

ANSWERS = Path(__file__).with_name("salon_answers.tsv")
TITLES = (
    *("hair", "wish", "class", "mix", "developer %", "minutes", "lands", "off", "white hair"),
    *("becomes", "nearest demi", "otherwise"),
)
WISHES = (
    *(("natural",), ("ash",), ("beige",), ("beige", "ash"), ("gold",), ("copper",), ("red",)),
    *(("violet",), ("rose",)),
)
STEPS = (-1, 0, 1)

_Line = tuple[str, ProductClass, list[float], MinuteSpan, float, dict[str, tuple[int, ...]]]
_LINES: tuple[_Line, ...] = (
    (
        *("Tern", "permanent", [3.0, 6.0, 9.0, 12.0], MinuteSpan(5, 45), 1.5),
        {
            "natural": (3, 4, 5, 6, 7, 8, 9),
            "ash": (5, 6, 7, 8, 9),
            "beige": (6, 7, 8, 9),
            "gold": (5, 6, 7, 8),
            "copper": (5, 6, 7),
            "red": (4, 5, 6),
            "clear": (10,),
        },
    ),
    (
        *("Wade", "neutral_demi", [1.9], MinuteSpan(5, 20), 1.0),
        {
            "natural": (6, 7, 8, 9),
            "beige": (8, 9, 10),
            "ash": (8, 9, 10),
            "pearl": (9, 10),
            "gold": (8,),
            "violet": (9, 10),
            "clear": (10,),
        },
    ),
    (
        *("Moss", "alkaline_demi", [1.5, 3.0], MinuteSpan(5, 20), 1.5),
        {
            "natural": (5, 7),
            "ash": (7,),
            "gold": (8,),
            "copper": (7,),
            "red": (6,),
            "rose": (9,),
            "violet": (8,),
            "clear": (10,),
        },
    ),
    (
        *("Dune", "acid_demi", [1.5], MinuteSpan(5, 20), 1.0),
        {"beige": (9, 10), "violet": (8, 9), "rose": (8, 9), "copper": (8,), "clear": (10,)},
    ),
)


def shelf() -> list[Product]:
    """Return the sixty tubes, each known by its label alone."""
    return [
        Product(
            id=f"{line}-{level}-{tone}".lower(),
            name="clear" if tone == "clear" else f"{level} {tone}",
            line=line,
            class_=product_class,
            level=float(level),
            tone=[tone],
            developer_percent=allowed,
            window=window,
            mix_ratio=ratio,
        )
        for line, product_class, allowed, window, ratio, shades in _LINES
        for tone, levels in shades.items()
        for level in levels
    ]


SHELF = shelf()
BY_ID = {product.id: product for product in SHELF}


@dataclass(frozen=True)
class Case:
    """One head and one wish."""

    head: str
    hair: Hair
    step: int
    wish: Wish

    @cached_property
    def reply(self) -> FormulationReply:
        """Return what is answered, from the whole shelf."""
        return formulate(FormulationRequest(self.hair, self.wish, SHELF, Limits()))

    @property
    def row(self) -> tuple[str, ...]:
        """Return the case as a line of the table."""
        said = f"{_number(self.wish.level or 0)} {' '.join(self.wish.tone or ())}"
        return (self.head, said, *_answer(self.reply))


def _number(value: float) -> str:
    return f"{value:g}"


def _answer(reply: FormulationReply) -> tuple[str, ...]:
    if not reply.formulas:
        if reply.already is not UNSET:
            return (*("",) * 9, reply.already.words)
        return (*("",) * 9, reply.shortfall.words if reply.shortfall else "")
    leader = reply.formulas[0]
    demis = [f.expected_delta_e for f in reply.formulas if f.class_.endswith("demi")]
    return (
        leader.class_.replace("_", " "),
        " + ".join(_part(part) for part in leader.mix.parts),
        _number(leader.mix.developer.percent) if leader.mix.developer else "",
        str(leader.mix.minutes),
        f"{10 * leader.chance:.0f} in 10",
        f"{leader.expected_delta_e:.1f}",
        leader.coverage if leader.coverage is not UNSET else "",
        leader.predicted.words,
        f"{min(demis) - leader.expected_delta_e:+.1f}" if demis else "",
        reply.shortfall.words if reply.shortfall else "",
    )


def _part(part: Part) -> str:
    product = BY_ID[part.product]
    return f"{part.grams:g} g {product.line} {product.name}"


def heads() -> Iterator[tuple[str, Hair, float, int]]:
    """Yield heads with the level that wishes go from, and how many wishes each is asked for."""
    for level in range(3, 9):
        for white in (0.0, 0.4, 1.0):
            told = {0.0: "", 0.4: ", 40 % white", 1.0: ", all white"}[white]
            hair = Hair(level=level, lifted=False, white_share=white, damp=0)
            yield f"natural {level}{told}", hair, level, 12
    for half in range(14, 22):
        yield f"lifted {half / 2:g}", Hair(level=half / 2), half / 2, 15
    for level, tube, lifted in (
        (6, "tern-5-natural", False),
        (7, "tern-6-copper", False),
        (9, "wade-9-violet", True),
        (10, "wade-9-natural", True),
    ):
        on = [Mix([Part(tube, 60.0)], BY_ID[tube].window.max)]
        hair = Hair(level=level, lifted=lifted, already_on=on)
        worn = "lifted" if lifted else "natural"
        yield f"{worn} {level}, {BY_ID[tube].name} on it", hair, level, 8
    for level in (8, 9, 9.5, 10):
        ends = OtherHair(Hair(level=level, porosity=0.9), 0.25, "ends")
        yield f"lifted {level:g}, porous ends", Hair(level=level, also=[ends]), level, 8


def cases() -> list[Case]:
    """Return the 400 cases: each head takes its share of all wishes in turn."""
    wanted = [(tone, step) for step in STEPS for tone in WISHES]
    found, next_wish = [], 0
    for head, hair, level, count in heads():
        for _ in range(count):
            # 7 has no factor in common with 27: a head's wishes are spread over tones and steps
            tone, step = wanted[next_wish * 7 % len(wanted)]
            next_wish += 1
            wish = Wish(level=min(10.5, max(1.0, level + step)), tone=list(tone))
            found.append(Case(head, hair, step, wish))
    return found


def row_of(place: int) -> tuple[str, ...]:
    """Return a line of the table."""
    return cases()[place].row


def main() -> None:
    """Write the table."""
    with Pool(2) as pool:
        rows = [TITLES, *pool.map(row_of, range(len(cases())), chunksize=10)]
    ANSWERS.write_text("".join("\t".join(row) + "\n" for row in rows), encoding="utf-8")


if __name__ == "__main__":
    main()
