"""A service's records put before the safety rules, as the page puts them."""
