"""Waste: its stream, what must be kept apart, containers, amounts, handovers and scrap."""
