"""Sails: cut, cloth, spars, ropes, and the coupled flight of all sails."""
