"""Questions about shapes of a print."""
