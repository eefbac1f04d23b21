"""Aboard: boat files, deck marks and deck words."""
