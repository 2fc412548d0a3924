"""Tags and lists on paper: PDF and CSV."""
