"""Tanks: their shape, how full they are, and what was drawn from them."""
