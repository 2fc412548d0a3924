"""Renewals: what must be bought new, in which size, and what is still open about it."""
