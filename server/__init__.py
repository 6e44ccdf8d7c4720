"""The web side: reads, converts, calls the calculation package, converts back, shows."""
