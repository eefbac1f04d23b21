"""Advice: the search for the best setting and what each control is worth."""
