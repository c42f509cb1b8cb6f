"""Keeping the salon whole: what was erased, what was put back, what became unsound."""
