"""The edits that DEVELOPERS.md names under *How to add*, one list for each recipe.

Each edit is a file, the line it comes after, and the text. A file that is not there is made.
"""

from pathlib import Path

Edit = tuple[str, str, str]

RULE_WITH_NEW_FACTS: list[Edit] = [
    (
        "api/basinside/engine/safety/rules.toml",
        "# ---------------------------------------------------------------- the skin alert test\n",
        """
[[rules]]
id = "fever-today"
part = "Skin alert test"
severity = "stop"
phases = ["booking", "start", "live"]
when = ["chemical is yes", "fever not no"]
say = "The client has a fever today."
next = "Rebook when the fever has gone."
sources = ["MAKER"]
status = "not_yet_checked"

[[rules]]
id = "resin-reacted"
part = "Skin alert test"
severity = "stop"
phases = ["booking", "start", "live"]
when = ["chemical is yes", "resin_reaction not none"]
say = "A resin has given a reaction."
next = "Refuse, and send the client to a doctor."
sources = ["MAKER"]
status = "not_yet_checked"
""",
    ),
    (
        "api/basinside/contract/safety_facts.py",
        "    face_rash: YesNo | None = None\n",
        "    fever: YesNo | None = None\n    resin_reaction: Reaction | None = None\n",
    ),
    (
        "api/basinside/contract/safety_facts.toml",
        'place = "/facts/tests/*/applied_by"\n',
        """
[facts.fever]
asked_of = "client"
kept_with = "service"
input = "choice"
was = "(own design)"
ask = "Does the client have a fever today?"
caution = ["no", "unknown", "yes"]
fresh_hours = 24

[facts.resin_reaction]
asked_of = "client"
kept_with = "client"
input = "choice"
merges = true
was = "(own design)"
ask = "Has a resin ever given a reaction?"
answers = { none = "No", mild = "Mild", severe = "Severe", unknown = "Not sure" }
caution = ["none", "unknown", "mild", "severe"]
""",
    ),
    # A fact that merges is a field of the client, and the review reads it there.
    (
        "api/basinside/contract/records.py",
        "    persulfate_reaction: Word | UnsetType = UNSET\n",
        "    resin_reaction: Word | UnsetType = UNSET\n",
    ),
    (
        "api/basinside/contract/service_reviews.py",
        "    persulfate_reaction: Said = UNSET\n",
        "    resin_reaction: Said = UNSET\n",
    ),
    (
        "tests/engine/safety_cases.py",
        "CASES = {\n",
        """    "fever-today": Case("MAKER (D)", {"fever": "yes"}, {}, {"fever": GONE}),
    "resin-reacted": Case(
        "MAKER (D)", {"resin_reaction": "mild"}, {}, {"resin_reaction": "unknown"}
    ),
""",
    ),
    (
        "tests/engine/safety_random.py",
        "FACTS = {\n",
        '    "fever": YES_IS_WORSE,\n'
        '    "resin_reaction": ["none", "unknown", "mild", "severe"],\n',
    ),
    (
        "api/basinside/service/http/document/examples.py",
        '    "face_rash": "no",\n',
        '    "fever": "no",\n    "resin_reaction": "none",\n',
    ),
]

# Peak of 2-hydroxy-5-methyl-indamine: J. Soc. Cosmet. Chem. 24 (1973), table V, p. 114.
DYE: list[Edit] = [
    (
        "api/basinside/contract/products.py",
        "    blue_violet_direct: DyeAmount = 0.0\n",
        "    brick: DyeAmount = 0.0\n",
    ),
    (
        "api/basinside/contract/products.py",
        "    blue_violet_direct: _DyeSd = 0.0\n",
        "    brick: _DyeSd = 0.0\n",
    ),
    (
        "api/basinside/engine/products/dyes.py",
        '    _dye("red", (512, 45), (512, 45), (2.5, 4.0), in_words=True),\n',
        '    _dye("brick", (504, 45), (504, 45), (2.5, 4.0)),\n',
    ),
    (
        "tests/outside/test_dye_kinetics.py",
        '    "red": 511,  # 2-amino-indoaniline\n',
        '    "brick": 504,  # 2-hydroxy-5-methyl-indamine\n',
    ),
]

FIELD_OF_A_RECORD: list[Edit] = [
    (
        "api/basinside/service/records/fields.py",
        '        ordinary="phone born hair learnt usual_formula',
        " likes_tea",
    ),
    (
        "api/basinside/contract/records.py",
        "    usual_formula: Id | UnsetType = UNSET\n",
        "    likes_tea: bool | UnsetType = UNSET\n",
    ),
]

CALL: list[Edit] = [
    (
        "api/basinside/contract/dilutions.py",
        "",
        '''"""Dilutions: how strong a developer is with water added."""

from typing import Annotated

from msgspec import Meta

from .base import Shape


class DilutionRequest(Shape):
    """How strong is this developer with an equal mass of water?"""

    developer_percent: Annotated[float, Meta(ge=0, le=100, description="Of peroxide.")]


class DilutionReply(Shape):
    """The strength of the mixture."""

    percent: float
''',
    ),
    (
        "api/basinside/engine/mixing/dilute.py",
        "",
        '''"""Says how strong a developer is with water added."""

from ...contract.dilutions import DilutionReply, DilutionRequest


def dilute(request: DilutionRequest) -> DilutionReply:
    """Return the strength, percent, of equal masses of a developer and water."""
    return DilutionReply(request.developer_percent / 2)
''',
    ),
    (
        "api/basinside/engine/door.py",
        "from ..contract.formulations import FormulationRequest\n",
        "from ..contract.dilutions import DilutionRequest\nfrom .mixing.dilute import dilute\n",
    ),
    (
        "api/basinside/engine/door.py",
        '    "labels": _question(LabelsRequest, tell_labels),\n',
        '    "dilutions": _question(DilutionRequest, dilute),\n',
    ),
    (
        "api/basinside/service/http/document/examples.py",
        'ENGINE_VERSION = "0123456789ab"\n',
        'DILUTIONS: dict[str, Any] = {"Twenty volumes": {"developer_percent": 6}}\n',
    ),
    (
        "api/basinside/service/http/document/calls/table.py",
        "from .....contract.formulations import FormulationReply, FormulationRequest\n",
        "from .....contract.dilutions import DilutionReply, DilutionRequest\n",
    ),
    (
        "api/basinside/service/http/document/calls/table.py",
        "CALLS = (\n",
        """    Call(
        "post",
        "/api/dilutions",
        "dilute",
        "Calculations",
        "With water added",
        "How strong is this developer with an equal mass of water?",
        DilutionRequest,
        DilutionReply,
        examples.DILUTIONS,
    ),
""",
    ),
    (
        "web/src/api/shapes.ts",
        'export type Schemas = components["schemas"];\n',
        'export type DilutionRequest = Schemas["DilutionRequest"];\n'
        'export type DilutionReply = Schemas["DilutionReply"];\n',
    ),
    (
        "web/src/engine/ask.ts",
        'import { NoAnswer, read_reply, send } from "../api/client";\n',
        'import type { DilutionReply, DilutionRequest } from "../api/shapes";\n',
    ),
    (
        "web/src/engine/ask.ts",
        "interface Calculations {\n",
        "  dilutions: { request: DilutionRequest; reply: DilutionReply };\n",
    ),
]

SCREEN: list[Edit] = [
    (
        "web/src/screens/dilute/index.tsx",
        "",
        """// How strong a developer is with water added.
import { halve, strength } from "./actions";
import "./style.css";

/** Returns the strength, and the button that asks for it. */
export function Dilute(_: { id: string }) {
  return (
    <section class="dilute">
      <button type="button" onClick={() => void halve(6)}>
        Add water
      </button>
      <p>{strength.value} %</p>
    </section>
  );
}
""",
    ),
    (
        "web/src/screens/dilute/actions.ts",
        "",
        """// Asks how strong a developer is with water added.
import { signal } from "@preact/signals";
import { ask } from "../../engine/ask";
import { all } from "../../records/read";

export const strength = signal(0);

/** Asks for the strength of equal masses of developer and water, where no client likes tea. */
export async function halve(developer_percent: number): Promise<void> {
  if (all("client").value.some(({ likes_tea }) => likes_tea === true)) return;
  const { reply } = await ask("dilutions", { developer_percent });
  strength.value = reply.percent;
}
""",
    ),
    ("web/src/screens/dilute/style.css", "", ".dilute {\n  margin: 0;\n}\n"),
    ("web/src/place.ts", "const PLACES = [\n", '  "dilute",\n'),
    (
        "web/src/shell.tsx",
        "const TODAY: View = { Body: Today, Step: TodayStep };\n",
        'const Dilute = later(() => import("./screens/dilute").then((screen) => screen.Dilute));\n',
    ),
    (
        "web/src/shell.tsx",
        "const VIEWS: Partial<Record<PlaceName, View>> = {\n",
        "  dilute: { Body: Dilute },\n",
    ),
]


def follow(tree: Path, edits: list[Edit]) -> None:
    """Make the edits in a copy of the tree; each line must be there once."""
    for name, after, text in edits:
        file = tree / name
        if not after:
            file.parent.mkdir(parents=True, exist_ok=True)
            file.write_text(text, "utf-8")
            continue
        told = file.read_text("utf-8")
        assert told.count(after) == 1, (name, after)
        file.write_text(told.replace(after, after + text), "utf-8")
