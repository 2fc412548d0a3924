"""What it all weighs: the list of masses, what to weigh next, and scrap by metal."""
