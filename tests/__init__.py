"""The tests, one folder for each room of the house."""
