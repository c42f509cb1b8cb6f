"""The kinds of record, their fields, and how the writes of two people merge."""
