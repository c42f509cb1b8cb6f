"""The desk's own readings: matters, search, export and import."""
