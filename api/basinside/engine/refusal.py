"""What the engine raises when it cannot answer: every place that is wrong, in words."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from msgspec import UNSET

from ..contract.problems import Fault


class Faulty(Exception):
    """Raised when the meaning of a request is wrong. Carries every fault found (HTTP 422)."""

    def __init__(self, faults: list[Fault]) -> None:
        super().__init__("; ".join(f"{f.pointer}: {f.message}" for f in faults))
        self.faults = faults


class Unfit(Exception):
    """Raised when a question was made of records, and what they hold does not fit its shape.

    Carries the decoder's error, the question as JSON, and the shape it should have had.
    """

    def __init__(self, error: Exception, made: bytes, asked: type) -> None:
        super().__init__(str(error))
        self.error, self.made, self.asked = error, made, asked


@dataclass
class Faults:
    """Collects faults so that a person hears of all of them at once."""

    found: list[Fault] = field(default_factory=list)

    def add(self, pointer: str, message: str, instead_percent: Sequence[float] = ()) -> None:
        """Note one fault at a JSON Pointer, with strengths of developer that would serve."""
        self.found.append(Fault(pointer, message, list(instead_percent) or UNSET))

    def refuse_if_any(self) -> None:
        """Raise `Faulty` when anything was noted."""
        if self.found:
            raise Faulty(self.found)
