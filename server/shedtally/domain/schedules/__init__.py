"""Pipes and wires as they were: in rows, and drawn as a plain diagram."""
