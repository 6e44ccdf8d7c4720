"""What a reader sees on the sketches."""
