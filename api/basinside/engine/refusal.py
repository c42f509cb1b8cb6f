"""A question the engine cannot answer as asked: every place that is wrong, in words."""

from dataclasses import dataclass, field

from ..contract.problems import Fault


class Refused(Exception):
    """Raised when the meaning of a request is wrong. Carries every fault found (HTTP 422)."""

    def __init__(self, faults: list[Fault]) -> None:
        super().__init__("; ".join(f"{f.pointer}: {f.message}" for f in faults))
        self.faults = faults


@dataclass
class Faults:
    """Collects faults so that a person hears of all of them at once."""

    found: list[Fault] = field(default_factory=list)

    def add(self, pointer: str, message: str) -> None:
        """Note one fault at a JSON Pointer."""
        self.found.append(Fault(pointer, message))

    def refuse_if_any(self) -> None:
        """Raise `Refused` when anything was noted."""
        if self.found:
            raise Refused(self.found)
