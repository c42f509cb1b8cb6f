"""The only entrance to the engine: a question and its JSON in, a reply's JSON out.

The server and the phone's worker both come in here, so a question is decoded, refused
and answered in the same words wherever it is asked. Nothing is kept between questions.

A refusal is a problem detail (RFC 9457). 400: the shape is wrong, and the first place
is named. 422: the meaning is wrong, and every place is named. 404: no such question.
"""

from collections.abc import Callable
from typing import Any, NamedTuple

import msgspec

from ..contract.formulations import FormulationRequest
from ..contract.judgements import JudgementRequest
from ..contract.labels import LabelsRequest
from ..contract.lightenings import LighteningRequest
from ..contract.mends import MendRequest
from ..contract.predictions import PredictionRequest
from ..contract.problems import Fault, Problem
from ..contract.reaches import ReachesRequest
from ..contract.safety import SafetyReviewRequest
from ..contract.schedules import ScheduleRequest
from ..contract.service_reviews import ServiceReviewRequest
from ..contract.swatches import CalibrationRequest, SwatchPlanRequest
from ..contract.weighing import MixRequest
from .formulation.formulate import formulate
from .formulation.lighten import lighten
from .formulation.mend import mend
from .formulation.reach import tell_reaches
from .judgement.judge import judge
from .mixing.weigh import weigh
from .refusal import Faulty, Unfit
from .safety.from_records.asking import review_service
from .safety.in_words import rules_in_words
from .safety.review import review
from .swatches.calibrate import calibrate
from .swatches.plan_swatches import plan_swatches
from .timing.predict import predict
from .timing.tell_labels import tell_labels
from .timing.zones.schedule import schedule
from .version import engine_version
from .whole_numbers import whole_numbers
from .wording.sentence import fault_of_shape

__all__ = [
    "JSON",
    "QUESTIONS",
    "TOLD",
    "Reply",
    "answer",
    "engine_version",
    "fault_of_shape",
    "refusal",
]

JSON = "application/json"
PROBLEM_JSON = "application/problem+json"

# The type is a reference relative to the API's address: the document page explains each.
_KINDS: dict[int, tuple[str, str]] = {
    400: ("/docs#problem-shape", "The request does not have the right shape."),
    404: ("about:blank", "There is nothing here."),
    405: ("about:blank", "That method is not served here."),
    413: ("/docs#problem-too-large", "The request is too large."),
    422: ("/docs#problem-meaning", "The question cannot be answered as asked."),
    503: ("about:blank", "The server cannot answer now."),
}
_OWN_FAULT = ("about:blank", "Something went wrong on our side.")


# How the decoder refuses 20.0 where a whole number belongs.
_POINTED = ("Expected `int`, got `float`", "Expected `int | null`, got `float`")


class Reply(NamedTuple):
    """What to send back: an HTTP status, the body's bytes and their media type."""

    status: int
    body: bytes
    media_type: str


class _Question(NamedTuple):
    asked: type
    decoder: msgspec.json.Decoder[Any]
    calculate: Callable[[Any], msgspec.Struct]


def _question(asked: type, calculate: Callable[[Any], msgspec.Struct]) -> _Question:
    return _Question(asked, msgspec.json.Decoder(asked), calculate)


QUESTIONS: dict[str, _Question] = {
    "formulations": _question(FormulationRequest, formulate),
    "predictions": _question(PredictionRequest, predict),
    "safety/reviews": _question(SafetyReviewRequest, review),
    "safety/services": _question(ServiceReviewRequest, review_service),
    "judgements": _question(JudgementRequest, judge),
    "mixes": _question(MixRequest, weigh),
    "schedules": _question(ScheduleRequest, schedule),
    "mends": _question(MendRequest, mend),
    "lightenings": _question(LighteningRequest, lighten),
    "reaches": _question(ReachesRequest, tell_reaches),
    "labels": _question(LabelsRequest, tell_labels),
    "calibrations": _question(CalibrationRequest, calibrate),
    "swatch_plans": _question(SwatchPlanRequest, plan_swatches),
}

# What is told without being asked anything: the same for all, whatever body comes with it.
TOLD: dict[str, Callable[[], msgspec.Struct]] = {"safety/rules": rules_in_words}


def answer(question: str, body: bytes) -> Reply:
    """Return the reply to a question, or its refusal; the same bytes give the same bytes.

    `question` is a name in `QUESTIONS` or `TOLD`, `body` the UTF-8 JSON of its request.
    Raises nothing for anything a caller can send.
    """
    if (told := TOLD.get(question)) is not None:
        return Reply(200, msgspec.json.encode(told()), JSON)
    if (known := QUESTIONS.get(question)) is None:
        return refusal(
            404, f"There is no question {question!r}; ask one of {', '.join([*QUESTIONS, *TOLD])}."
        )
    try:
        request = _decoded(known, body)
    # msgspec raises the last two itself: for nesting past the stack, for bytes not UTF-8.
    except (msgspec.DecodeError, RecursionError, UnicodeDecodeError) as error:
        fault = fault_of_shape(error, body, known.asked)
        return refusal(400, fault.message, [fault])
    try:
        reply = known.calculate(request)
    except Faulty as refused:
        return refusal(422, _summary(refused.faults), refused.faults)
    except Unfit as unfit:
        fault = fault_of_shape(unfit.error, unfit.made, unfit.asked)
        return refusal(422, f"What is on record does not fit: {fault.message}", [fault])
    return Reply(200, msgspec.json.encode(reply), JSON)


def _decoded(question: _Question, body: bytes) -> object:
    """Return the request. JSON Schema calls 20.0 a whole number; the decoder alone would not."""
    try:
        return question.decoder.decode(body)
    except msgspec.ValidationError as error:
        if not str(error).startswith(_POINTED):
            raise
    return msgspec.convert(whole_numbers(msgspec.json.decode(body)), question.asked)


def refusal(status: int, detail: str, faults: list[Fault] | None = None) -> Reply:
    """Return a refusal as problem details; `faults` name the places in the request."""
    kind, title = _KINDS.get(status, _OWN_FAULT)
    problem = Problem(kind, title, status, detail, faults or [])
    return Reply(status, msgspec.json.encode(problem), PROBLEM_JSON)


def _summary(faults: list[Fault]) -> str:
    if len(faults) == 1:
        return faults[0].message
    return f"{len(faults)} places need another look. The first: {faults[0].message}"
