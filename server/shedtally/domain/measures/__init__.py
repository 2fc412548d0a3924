"""Sizes as people write them, read as what they say."""
