"""Air: wind over water, apparent wind by height, vortex lattice, sections."""
