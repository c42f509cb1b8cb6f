"""Writes and reads instants as text: RFC 3339 in UTC, to the millisecond."""

from datetime import UTC, datetime, timedelta

_START = datetime(1970, 1, 1, tzinfo=UTC)
_MILLISECOND = timedelta(milliseconds=1)


def instant_text(at_ms: int) -> str:
    """Return an instant (ms since 1970) as "2026-11-25T10:15:03.120Z"."""
    text = (_START + at_ms * _MILLISECOND).isoformat(timespec="milliseconds")
    return text.removesuffix("+00:00") + "Z"


def instant_ms(text: str) -> int:
    """Return an instant's ms since 1970; raise ValueError if the text is no instant."""
    at = datetime.fromisoformat(text)
    if at.tzinfo is None:
        raise ValueError(f'An instant has an offset; "{text}" has none.')
    return (at - _START) // _MILLISECOND
