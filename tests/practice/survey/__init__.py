"""The survey: every fact of the trade asked of boats that nobody has tuned."""
