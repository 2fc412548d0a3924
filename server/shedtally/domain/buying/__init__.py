"""Buying: the renewals with their offers, on reels and in packs, as far as they have come."""
