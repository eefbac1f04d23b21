"""Water: hull, stability and the boat's equilibrium."""
