"""What is kept: the kinds of record, their fields, and how writes of two people merge."""
