"""Every text that a person reads, gathered from the program, and the catalogues of the other languages kept with it."""
