"""How records travel between phones, desks and this server."""
