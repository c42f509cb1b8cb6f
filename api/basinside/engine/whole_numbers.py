"""Whole numbers, however JSON writes them: its schemas call 20.0 a whole number."""


def whole_numbers(came: object) -> object:
    """Return JSON values with every number that is whole written as one."""
    match came:
        case float() if came.is_integer():
            return int(came)
        case list():
            return [whole_numbers(item) for item in came]
        case dict():
            return {name: whole_numbers(value) for name, value in came.items()}
    return came
