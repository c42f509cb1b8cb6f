"""Keeps the salon whole: erasures, older copies put back, and unsound rows."""
