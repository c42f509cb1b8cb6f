"""Stores the records: the only place that knows where and how."""
