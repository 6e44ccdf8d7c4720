"""Heavy questions: which they are, the processes that answer them, and how long anybody waits."""
