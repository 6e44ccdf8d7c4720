"""What every question is put in: quantities, reading, sentences, declared fields, recorded working."""
