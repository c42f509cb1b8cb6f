"""Moments with an offset (RFC 3339), as plain arithmetic: no clock and no table of zones.

The phone's trimmed library has no zone table, and the same answer is owed everywhere. So
ages are elapsed seconds between stored moments, in which neither clock changes nor zones nor
midnight count; days are read off the offsets that came with the moments.
"""

import re
from functools import lru_cache
from typing import NamedTuple

_FORM = re.compile(
    r"(\d{4})-(\d\d)-(\d\d)T(\d\d):(\d\d):(\d\d)(?:\.(\d+))?(?:Z|([+-])(\d\d):(\d\d))"
)
_WEEKDAYS = ("Thu", "Fri", "Sat", "Sun", "Mon", "Tue", "Wed")  # 1970-01-01 was a Thursday
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
_DAY_S = 86_400
_TO_1970 = 719_468  # days from 1 March of year 0
# A record dated outside these years is a slip of the hand or a clock that lost its battery.
_FIRST_YEAR, _LAST_YEAR = 2000, 2099


class Impossible(ValueError):
    """Raised for a day or time that no calendar has; the message says which."""


class Moment(NamedTuple):
    """Seconds since 1970 UTC, and the offset it was written with, in minutes."""

    seconds: float
    offset_min: int

    @property
    def local_day(self) -> int:
        """Days since 1970 on the wall calendar where it was written."""
        return int((self.seconds + self.offset_min * 60) // _DAY_S)

    def day_at(self, offset_min: int) -> int:
        """Days since 1970 on the wall calendar of another offset."""
        return int((self.seconds + offset_min * 60) // _DAY_S)


def days_in_month(year: int, month: int) -> int:
    """Return the number of days of a month of the Gregorian calendar."""
    if month == 2:
        leap = year % 4 == 0 and (year % 100 != 0 or year % 400 == 0)
        return 29 if leap else 28
    return 30 if month in (4, 6, 9, 11) else 31


def day_number(year: int, month: int, day: int) -> int:
    """Return days since 1970-01-01 of a day of the Gregorian calendar."""
    # Years that begin in March put the leap day last, and the months' lengths follow 153/5.
    year, month = year - (month <= 2), (month - 3) % 12
    leaps = year // 4 - year // 100 + year // 400
    return 365 * year + leaps + (153 * month + 2) // 5 + day - 1 - _TO_1970


def calendar_day(days: int) -> tuple[int, int, int]:
    """Return year, month and day of a number of days since 1970-01-01."""
    era, left = divmod(days + _TO_1970, 146_097)  # 400 years
    year = (left - left // 1460 + left // 36_524 - left // 146_096) // 365
    left -= 365 * year + year // 4 - year // 100
    month = (5 * left + 2) // 153
    day = left - (153 * month + 2) // 5 + 1
    month = month + 3 if month < 10 else month - 9
    return 400 * era + year + (month <= 2), month, day


def read_day(text: str) -> int:
    """Return days since 1970 of YYYY-MM-DD. Raises Impossible for a day that does not exist."""
    year, month, day = (int(part) for part in text.split("-"))
    if not _FIRST_YEAR - 100 <= year <= _LAST_YEAR:
        raise Impossible(f"The year must be {_FIRST_YEAR - 100} to {_LAST_YEAR}; got {year}.")
    return _checked_day(year, month, day)


@lru_cache(maxsize=1024)  # one review reads the same few moments many times
def read_moment(text: str) -> Moment:
    """Return the moment of an RFC 3339 text. Raises Impossible for one that does not exist."""
    if (found := _FORM.fullmatch(text)) is None:
        raise Impossible(f"A moment must read like 2026-11-25T10:15:00+01:00; got {text!r}.")
    year, month, day, hour, minute, second = (int(part) for part in found.groups()[:6])
    if not _FIRST_YEAR <= year <= _LAST_YEAR:
        raise Impossible(
            f"The year must be {_FIRST_YEAR} to {_LAST_YEAR}; got {year}. Check the device's date."
        )
    days = _checked_day(year, month, day)
    # RFC 3339 §5.7: a leap second is second 60.
    if hour > 23 or minute > 59 or second > 60:
        raise Impossible(f"There is no time {hour:02}:{minute:02}:{second:02}. Use 00:00 to 23:59.")
    offset = 0
    if found[8]:
        if int(found[9]) > 23 or int(found[10]) > 59:
            raise Impossible(f"There is no offset {found[8]}{found[9]}:{found[10]}.")
        offset = (int(found[9]) * 60 + int(found[10])) * (1 if found[8] == "+" else -1)
    fraction = float(f"0.{found[7]}") if found[7] else 0.0
    seconds = days * _DAY_S + hour * 3600 + minute * 60 + second - offset * 60
    return Moment(seconds + fraction, offset)


def _checked_day(year: int, month: int, day: int) -> int:
    if not 1 <= month <= 12:
        raise Impossible(f"There is no month {month}. Use 01 to 12.")
    if not 1 <= day <= days_in_month(year, month):
        raise Impossible(
            f"{_MONTHS[month - 1]} {year} has {days_in_month(year, month)} days; got day {day}."
        )
    return day_number(year, month, day)


def months_on(days: int, months: int) -> int:
    """Return the day on which a period of calendar months ends.

    The same day of the month, or the month's last where it has no such day: Regulation
    (EEC, Euratom) No 1182/71, Article 3(2)(c). The period ends with that day's last hour.
    """
    year, month, day = calendar_day(days)
    month += months
    year, month = year + (month - 1) // 12, (month - 1) % 12 + 1
    return day_number(year, month, min(day, days_in_month(year, month)))


def text_of_day(days: int) -> str:
    """Return YYYY-MM-DD."""
    year, month, day = calendar_day(days)
    return f"{year:04}-{month:02}-{day:02}"


def text_of(seconds: float, offset_min: int) -> str:
    """Return RFC 3339 to the second, rounded up, so that nothing opens early."""
    whole = -int(-seconds // 1)
    days, rest = divmod(whole + offset_min * 60, _DAY_S)
    clock = f"{rest // 3600:02}:{rest // 60 % 60:02}:{rest % 60:02}"
    return f"{text_of_day(days)}T{clock}{_offset(offset_min)}"


def words_of(seconds: float, offset_min: int) -> str:
    """Return day and time for people, to the minute, rounded up, with the offset it is told in."""
    minutes = -int(-seconds // 60) + offset_min
    days, rest = divmod(minutes, 1440)
    _, month, day = calendar_day(days)
    when = f"{_WEEKDAYS[days % 7]} {day} {_MONTHS[month - 1]}, {rest // 60:02}:{rest % 60:02}"
    return f"{when} (UTC{_offset(offset_min)})"


def words_of_age(seconds: float) -> str:
    """Return an age as whole hours and minutes, rounded down: 47 h 59 min."""
    hours, minutes = divmod(int(seconds // 60), 60)
    return f"{hours} h {minutes} min" if minutes else f"{hours} h"


def _offset(offset_min: int) -> str:
    sign = "-" if offset_min < 0 else "+"
    return f"{sign}{abs(offset_min) // 60:02}:{abs(offset_min) % 60:02}"
