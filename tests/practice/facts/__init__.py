"""The facts of the trade as functions of a solved state, for the tests and the survey alike."""
