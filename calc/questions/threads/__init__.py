"""Questions about screw threads: size and check, passes, taps."""
