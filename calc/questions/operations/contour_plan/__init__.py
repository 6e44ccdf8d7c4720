"""The plan of any contour: what is asked, the passes, what they remove, what they take in time, words and pictures."""
