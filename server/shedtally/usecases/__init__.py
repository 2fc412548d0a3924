"""One file per thing that a person or a phone does; each gets all it touches as arguments."""
