"""What the commands say to the person at the terminal."""


class SetupError(Exception):
    """Something outside the project is missing or refused; the text says what, and what to do about it."""


def say(line: str = "") -> None:
    """Print a line at once: the programs started next write to the same terminal, and must not overtake it."""
    print(line, flush=True)
