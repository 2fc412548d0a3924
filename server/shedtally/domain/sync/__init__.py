"""Changes and how they merge: the same answers on the server and on every phone."""
