"""The desk's own readings: what needs a look, what is searched, exported and brought in."""
