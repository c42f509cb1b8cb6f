"""Prints the replies as tables to read at a glance, for `--table`."""

from collections.abc import Callable

import msgspec

from ..contract.colours import Colour
from ..contract.formulations import Formula, FormulationReply, FormulationRequest, Shortfall
from ..contract.judgements import JudgementReply, Surprise
from ..contract.labels import LabelColour, LabelsReply, LabelsRequest
from ..contract.lightenings import LighteningReply
from ..contract.mends import MendReply, MendRequest, WayOn
from ..contract.predictions import PredictionReply, StripMinute, Window
from ..contract.schedules import Miss, ScheduleReply
from ..contract.weighing import MixReply


def strip_table(_request: bytes, reply: bytes) -> str:
    """Return the strip, a row a minute: each look in words and as a screen colour."""
    predicted = msgspec.json.decode(reply, type=PredictionReply)
    return f"{_strip(predicted.strip)}\n\nRinse: {_window(predicted.window)}"


def judgement_table(_request: bytes, reply: bytes) -> str:
    """Return the strip of the judged head, then the head, the advice and any surprise."""
    judged = msgspec.json.decode(reply, type=JudgementReply)
    said = [f"Rinse: {_window(judged.window)}", judged.this_head, judged.advice.words]
    return "\n\n".join([_strip(judged.strip), "\n".join([*said, *_surprise(judged.surprise)])])


def formula_table(request: bytes, reply: bytes) -> str:
    """Return the formulas, a row each, in the order given, and the shelf's shortfall."""
    asked = msgspec.json.decode(request, type=FormulationRequest)
    names = {product.id: f"{product.line} {product.name}" for product in asked.products}
    replied = msgspec.json.decode(reply, type=FormulationReply)
    heading = ["", "mix", "developer", "min", "dry", "ΔE", "chance", "rinse"]
    rows = [
        _formula(place, formula, names) for place, formula in enumerate(replied.formulas, start=1)
    ]
    table = _aligned([heading, *rows], right={0, 3, 5, 6}) if rows else "No formula."
    return "\n\n".join([table, *_shortfall(replied.shortfall)])


def ladder_table(_request: bytes, reply: bytes) -> str:
    """Return the ladder, a row a pour with the scale's reading after it, and the notes to it."""
    replied = msgspec.json.decode(reply, type=MixReply)
    rows = [[rung.name, rung.words, rung.reading_words] for rung in replied.recipe]
    table = _aligned([["pour", "amount", "scale shows"], ["tare", "", "0"], *rows], right={1, 2})
    below = [replied.developer.words] if replied.developer else []
    below += [part.words for part in (replied.rounding, replied.suggested) if part]
    below.append(replied.use_within.words)
    if replied.cost is not None:
        below.append(f"Cost: {replied.cost:.2f}.")
    return "\n".join([table, "", *below])


def schedule_table(_request: bytes, reply: bytes) -> str:
    """Return the steps, a row each, and the least slack; or which zones must miss, and why."""
    replied = msgspec.json.decode(reply, type=ScheduleReply)
    if replied.slack_min is None:
        return "\n\n".join(_miss(miss) for miss in replied.impossible)
    rows = [
        [f"{step.starts_min}–{step.ends_min}", str(step.hands), step.words]
        for step in replied.steps
    ]
    table = _aligned([["min", "hands", "do"], *rows], right={0, 1})
    return f"{table}\n\n{replied.total_min} min in all; least slack {replied.slack_min} min."


def _strip(strip: list[StripMinute]) -> str:
    rows = [
        [str(at.minute), *(_colour(look) for look in (at.on_head, at.wiped, at.if_rinsed))]
        for at in strip
    ]
    return _aligned([["min", "on the head", "wiped", "dry if rinsed now"], *rows], right={0})


def _surprise(surprise: Surprise | None) -> list[str]:
    return [] if surprise is None else [surprise.words, *(s.words for s in surprise.could_be)]


def _miss(miss: Miss) -> str:
    return "\n".join([miss.words, *(f"- {mend.words}" for mend in miss.mends)])


def mend_table(request: bytes, reply: bytes) -> str:
    """Return the ways on, a row each, the advised one first, and the shelf's shortfall."""
    asked = msgspec.json.decode(request, type=MendRequest)
    names = {product.id: f"{product.line} {product.name}" for product in asked.products}
    replied = msgspec.json.decode(reply, type=MendReply)
    rows = [_mend(place, way, names) for place, way in enumerate(replied.mends, start=1)]
    heading = ["", "do", "mix", "min", "dry", "ΔE", "chance"]
    table = _aligned([heading, *rows], right={0, 3, 5, 6})
    return "\n\n".join([table, replied.mends[0].words, *_shortfall(replied.shortfall)])


def lightening_table(_request: bytes, reply: bytes) -> str:
    """Return the advice under the lightener, in words."""
    return msgspec.json.decode(reply, type=LighteningReply).words


def label_table(request: bytes, reply: bytes) -> str:
    """Return the tubes, a row each: what each makes on its own hair, beside what it promises."""
    asked = msgspec.json.decode(request, type=LabelsRequest)
    replied = msgspec.json.decode(reply, type=LabelsReply)
    heading = ["tube", "meant for", "promises", "makes alone", "ΔE"]
    rows = [
        [
            f"{product.line} {product.name}",
            label.hair,
            _colour(label.promises) if label.promises else "no dye",
            _colour(label.makes),
            f"{label.delta_e:.1f}" if label.promises else "",
        ]
        for product, label in zip(asked.products, replied.labels, strict=True)
    ]
    return _aligned([heading, *rows], right={4})


def _mend(place: int, way: WayOn, names: dict[str, str]) -> list[str]:
    formula = way.formula if isinstance(way.formula, Formula) else None
    parts = formula.mix.parts if formula else []
    return [
        str(place),
        way.do.replace("_", " "),
        " + ".join(f"{part.grams:g} g {names[part.product]}" for part in parts),
        str(formula.mix.minutes) if formula else "",
        _colour(way.predicted),
        f"{way.delta_e:.1f}",
        f"{way.chance:.0%}",
    ]


TABLES: dict[str, Callable[[bytes, bytes], str]] = {
    "predictions": strip_table,
    "formulations": formula_table,
    "judgements": judgement_table,
    "mixes": ladder_table,
    "schedules": schedule_table,
    "mends": mend_table,
    "lightenings": lightening_table,
    "labels": label_table,
}


def _formula(place: int, formula: Formula, names: dict[str, str]) -> list[str]:
    mix, developer = formula.mix, formula.mix.developer
    return [
        str(place),
        " + ".join(f"{part.grams:g} g {names[part.product]}" for part in mix.parts),
        f"{developer.grams:g} g {developer.percent:g} %" if developer else "none",
        str(mix.minutes),
        _colour(formula.predicted),
        f"{formula.delta_e:.1f}",
        f"{formula.chance:.0%}",
        _window(formula.window),
    ]


def _shortfall(shortfall: Shortfall | None) -> list[str]:
    return [] if shortfall is None else [f"Off by ΔE {shortfall.delta_e:.1f}. {shortfall.words}"]


def _colour(colour: Colour | LabelColour) -> str:
    return f"{colour.words} {colour.hex}"


def _window(window: Window) -> str:
    if isinstance(window.reason, str):
        return window.reason
    return f"from {window.earliest}, best {window.best}, by {window.latest}"


def _aligned(rows: list[list[str]], right: set[int]) -> str:
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    lines = (
        "  ".join(
            cell.rjust(width) if place in right else cell.ljust(width)
            for place, (cell, width) in enumerate(zip(row, widths, strict=True))
        )
        for row in rows
    )
    return "\n".join(line.rstrip() for line in lines)
