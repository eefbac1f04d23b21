"""Faces: command line, drawings, pages."""
