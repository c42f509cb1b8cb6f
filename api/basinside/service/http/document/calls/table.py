"""The one table of calls, in words. The document is written from it."""

from .....contract.formulations import FormulationReply, FormulationRequest
from .....contract.health import Health
from .....contract.judgements import JudgementReply, JudgementRequest
from .....contract.labels import LabelsReply, LabelsRequest
from .....contract.lightenings import LighteningReply, LighteningRequest
from .....contract.mends import MendReply, MendRequest
from .....contract.predictions import PredictionReply, PredictionRequest
from .....contract.products import Shelf
from .....contract.reaches import ReachesReply, ReachesRequest
from .....contract.safety import SafetyReviewReply, SafetyReviewRequest, SafetyRules
from .....contract.schedules import ScheduleReply, ScheduleRequest
from .....contract.service_reviews import ServiceReviewRequest
from .....contract.swatches import (
    CalibrationReply,
    CalibrationRequest,
    SwatchPlanReply,
    SwatchPlanRequest,
)
from .....contract.weighing import MixReply, MixRequest
from .. import examples, swatch_examples
from .call import Call
from .export import EXPORT_CALLS
from .records import RECORD_CALLS

GROUPS = {
    "Calculations": "Pure: all they need is in the request, nothing stored is read, and the same"
    " request always gets the same answer, on the server and on the phone.",
    "Safety": "Whether a service may start, and the rules that say so. Also pure.",
    "Shelf": "The products at hand.",
    "Records": "What devices wrote, and how it travels. Every call carries the token of a paired"
    " device, `Authorization: Bearer …`, but the one that gets it.",
    "Reading": "What the salon keeps, for a desk or another program: values as they are shown, a"
    " page at a time, and a search. Every call carries a token, as under *Records*.",
    "Server": "Whether it is ready, and what answers.",
}

CALLS = (
    Call(
        "post",
        "/api/formulations",
        "formulate",
        "Calculations",
        "What to mix",
        "What should be mixed from these products for this hair and this wish? The answer ranks"
        " formulas, each with its dry colour, how sure that is, the minutes to rinse in and the"
        " reasons. If the products cannot do it, it says by how much and what would help.",
        FormulationRequest,
        FormulationReply,
        examples.FORMULATIONS,
    ),
    Call(
        "post",
        "/api/predictions",
        "predict",
        "Calculations",
        "The colours, minute by minute",
        "What will this mix look like on this hair while it develops? Each minute has three looks:"
        " on the head (product on, wet), wiped (clean, wet) and dry, if rinsed at that minute. A"
        " formula's `mix` goes in unchanged and gives the same colour.",
        PredictionRequest,
        PredictionReply,
        examples.PREDICTIONS,
    ),
    Call(
        "post",
        "/api/safety/reviews",
        "reviewSafety",
        "Safety",
        "May this service start?",
        "What do the safety rules find for these facts and this plan? Findings come worst first:"
        " holds, decisions for a named person, and things good to know. Each has its next step and"
        " its source. The open questions follow, in the order that closes most. A missing fact"
        " counts as unsafe. A hold is an answer, not a refusal. Rinsing, first aid, a call for"
        " help, ending and export are never held.",
        SafetyReviewRequest,
        SafetyReviewReply,
        examples.SAFETY_REVIEWS,
    ),
    Call(
        "post",
        "/api/safety/services",
        "reviewService",
        "Safety",
        "May this service start, by its records?",
        "The same review, asked with a service's records as they are shown. Facts and plan are"
        " worked out from them: what the client answered and when, the alert tests and whether an"
        " earlier service relied on one, the lines in the bowls with their leaflets, areas,"
        " strengths and decisions. Each question says with which record its answer is kept.",
        ServiceReviewRequest,
        SafetyReviewReply,
        examples.SERVICE_REVIEWS,
    ),
    Call(
        "get",
        "/api/safety/rules",
        "listSafetyRules",
        "Safety",
        "The safety rules in words",
        "Every rule with its condition, its sentence, its next step and its sources. Each source"
        " says how far it was checked. Every fact has its question.",
        None,
        SafetyRules,
        examples.SAFETY_RULES,
        refused=("503",),
    ),
    Call(
        "post",
        "/api/judgements",
        "judge",
        "Calculations",
        "Wait, look again or rinse",
        "What do looks at the basin, measured or in a word, tell about this head? The answer has"
        " the hair as it now seems and how sure that is, its strip and window, and what to do now"
        " and why. If hardly any such head could show a look, it says what else would explain it."
        " Send every reading so far with the hair as first described.",
        JudgementRequest,
        JudgementReply,
        examples.JUDGEMENTS,
    ),
    Call(
        "post",
        "/api/mixes",
        "weigh",
        "Calculations",
        "How to weigh a mix",
        "How is this mix weighed, on this scale, with the developers in stock? The answer is a"
        " ladder of scale readings from the tare on. Developer is thinned by mass if its strength"
        " is not in stock, and never made stronger: that is refused. The answer also has what"
        " rounding does to the colour, the cost, and how long the mix may be used. With"
        " `hair_amount` it says how much this much hair needs.",
        MixRequest,
        MixReply,
        examples.MIXES,
    ),
    Call(
        "post",
        "/api/schedules",
        "schedule",
        "Calculations",
        "In which order to work, and when",
        "When is each zone put on and rinsed, so that every one is inside its window at its rinse?"
        " The answer is the order with the most slack, for one or two pairs of hands. If there is"
        " none, it says which zone must miss, by how much, and what would help. All zones are on"
        " before the first is rinsed, and each one's age runs from its last section on.",
        ScheduleRequest,
        ScheduleReply,
        examples.SCHEDULES,
    ),
    Call(
        "post",
        "/api/mends",
        "mend",
        "Calculations",
        "Leave it, wash once, or a second mix",
        "It missed: what would bring this hair nearer its wish? The answer compares leaving it, one"
        " wash and second mixes over the first. Each has its dry colour, and the advised way comes"
        " first. Leaving it is advised when nothing else is worth it. Take `hair` from a judgement"
        " of the dried strand if you can, with the rinsed mix in `already_on`.",
        MendRequest,
        MendReply,
        examples.MENDS,
    ),
    Call(
        "post",
        "/api/lightenings",
        "lighten",
        "Calculations",
        "Light enough for this wish?",
        "You wiped a strand under the lightener and looked at it. Is it light enough for the wish?"
        " Does it need more time within the leaflet, would a deeper wish do, or should it stop? No"
        " colour is predicted while hair lightens.",
        LighteningRequest,
        LighteningReply,
        examples.LIGHTENINGS,
    ),
    Call(
        "post",
        "/api/reaches",
        "tellReaches",
        "Calculations",
        "Which wishes this shelf can make",
        "Which levels and tones can this shelf make on this hair? Many wishes at once, for about"
        " the cost of a few formulations. Where no mix lands, it says what is in the way. Ask a few"
        " levels and tones first, then the rest. What to mix is a formulation's answer.",
        ReachesRequest,
        ReachesReply,
        examples.REACHES,
    ),
    Call(
        "post",
        "/api/labels",
        "tellLabels",
        "Calculations",
        "What a tube makes alone",
        "What does each of these products make alone, on the hair it is meant for? Beside it stands"
        " the colour its label promises, and a sentence where the two differ.",
        LabelsRequest,
        LabelsReply,
        examples.LABELS,
    ),
    Call(
        "post",
        "/api/calibrations",
        "calibrate",
        "Calculations",
        "What painted swatches tell of products",
        "You painted swatches, dried them and read them. What is really in these products? The"
        " answer has each product with its dyes, the speed of its line, and how sure both are, for"
        " every other calculation. Each swatch stands beside what it should have shown, with a"
        " word about the odd ones, which hardly count. A client's dried result may be among them:"
        " it tells most of her head, and a little of the product. Send all swatches each time.",
        CalibrationRequest,
        CalibrationReply,
        swatch_examples.CALIBRATIONS,
    ),
    Call(
        "post",
        "/api/swatch_plans",
        "planSwatches",
        "Calculations",
        "Which swatches to paint",
        "Which swatches would teach most of these products, on swatch hair of these levels? Each"
        " has its hair, mix and minutes, what it should show, and how well the products will be"
        " known once it is read. Eight of one product are twenty minutes' work.",
        SwatchPlanRequest,
        SwatchPlanReply,
        swatch_examples.SWATCH_PLANS,
    ),
    Call(
        "get",
        "/api/products",
        "listProducts",
        "Shelf",
        "The products on the shelf",
        "Products ready for a calculation, at most 500. With a device's token they are the salon's"
        " own, as its records have them, by line and name. Without one they are the invented demo"
        " shelf, with `demo` true, which tells nothing about any salon. Read-only.",
        None,
        Shelf,
        examples.PRODUCTS,
        refused=("401", "403", "503"),
        tokens_too=True,
    ),
    *EXPORT_CALLS,
    *RECORD_CALLS,
    Call(
        "get",
        "/api/health",
        "health",
        "Server",
        "Whether the server is ready",
        "Answers once the server takes requests. `engine_version` names the engine's files."
        " Different versions may give different answers. The server backs its records up once a day"
        " and proves each copy; this call says when it last did.",
        None,
        Health,
        examples.HEALTH,
    ),
)
