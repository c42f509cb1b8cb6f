"""Refuses a parameter that a call does not take, or takes once: a wrong name would go unnoticed."""

import re
from typing import Any, NamedTuple
from urllib.parse import parse_qsl

from litestar import Request
from litestar.exceptions import HTTPException

from ..sync.refused import misshapen

_LONGEST_SHOWN = 40


class Parameters(NamedTuple):
    """The names that each path takes, and the paths that ask for a device's token first."""

    taken: dict[str, list[str]]
    paired: set[str]


async def refuse_unknown_at_once(request: Request[Any, Any, Any]) -> None:
    """Refuse on the calls that are for everybody; the others first ask who it is."""
    if request.scope.get("query_string") and _path_of(request) not in _known(request).paired:
        refuse_unknown(request)


def refuse_unknown(request: Request[Any, Any, Any]) -> None:
    """Raise a refusal (400) for a parameter that is unknown or given twice."""
    given = request.scope.get("query_string")
    if not given:
        return
    path, known = _path_of(request), _known(request)
    if path not in known.taken:
        return
    taken, seen = known.taken[path], set[str]()
    for name, _ in parse_qsl(given.decode("latin-1"), keep_blank_values=True):
        if name not in taken:
            takes = f"It takes {', '.join(taken)}." if taken else "It takes none."
            said = f'There is no parameter "{name[:_LONGEST_SHOWN]}". {takes}'
        elif name in seen:
            said = f"Give `{name}` once."
        else:
            seen.add(name)
            continue
        raise misshapen(said) if path in known.paired else HTTPException(said, status_code=400)


def _path_of(request: Request[Any, Any, Any]) -> str:
    """Return the path as the document writes it: with the name of a part that varies."""
    if not request.scope.get("path_params"):
        return request.scope["path"]
    return re.sub(r":\w+}", "}", request.scope["path_template"])


def _known(request: Request[Any, Any, Any]) -> Parameters:
    known: Parameters = request.app.state.parameters
    return known
