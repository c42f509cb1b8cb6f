"""The one error of a server that cannot start: a sentence on what to do."""


class Unready(Exception):
    """The machine lacks something, or something is in the way. Its text is for the person."""
