"""Questions about speed, feed, finish, force and what holds."""
