// Registered and removed again by the set-up page, to see whether the browser allows it here.
