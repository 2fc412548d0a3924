"""Tables, change log, photo files and the unit of work. Returns domain objects, never rows."""
