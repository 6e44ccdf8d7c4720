"""What an answer is made of: results, points, cautions, a sketch, plots."""
