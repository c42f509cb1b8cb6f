"""Puts a service's records before the safety rules, as the page does."""
