"""Drawings as SVG text: sections from above, and the sails from the side."""
