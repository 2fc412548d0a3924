"""The work: what comes before what, what is left, how long it takes, and how it all goes back."""
