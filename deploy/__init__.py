"""Running, checking and installing Chuckside: standard library only, so that a bare Python can start it."""
