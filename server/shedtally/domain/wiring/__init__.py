"""Wires: load, size, terminals, fuses and trunking of each run of cable."""
