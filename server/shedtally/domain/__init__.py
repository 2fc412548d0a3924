"""Pure rules of the trade: no Flask, no SQL, no clock, no files. Data reaches it as arguments."""
