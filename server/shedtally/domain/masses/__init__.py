"""Masses with what they are uncertain by: from scales, from form and size, or from the kind."""
