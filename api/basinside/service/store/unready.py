"""The one error of a server that cannot start: a sentence on what to do."""


class Unready(Exception):
    """Something this machine must be given or rid of first. Its text is for the person."""
