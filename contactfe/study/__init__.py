"""A study: points to be solved, each by itself, and the crew of processes that solves them."""
