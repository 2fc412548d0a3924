"""How the boat floats, as she is and as she will once the work is done."""
