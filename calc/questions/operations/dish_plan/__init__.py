"""Plans: from the print's dimensions to passes, times, finish and cautions."""
