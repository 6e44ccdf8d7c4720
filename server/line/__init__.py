"""One line to ask anything: what a person types as they would say it, read by the same readers as the fields."""
