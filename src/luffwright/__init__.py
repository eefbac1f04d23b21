"""Luffwright: compute how a boat's sails should be set, and why."""
