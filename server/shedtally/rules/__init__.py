"""Data with its sources (TOML) and `load.py`, the only code that opens it."""
