"""Where things sit in the boat, what they are joined to, and whether they have come out."""
