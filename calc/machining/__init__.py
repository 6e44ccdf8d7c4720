"""What a tool does to stock: moves, roughing, the sweep, reach, time and force along the moves, words."""
