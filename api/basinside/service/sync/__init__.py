"""Moves records between phones, desks and this server."""
