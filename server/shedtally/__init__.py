"""Shedtally: the memory of a boat that is being taken apart. DEVELOPERS.md has the map."""
