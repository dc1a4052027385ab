"""What is bought: wire, metal, blades, drills and rods, as frozen values."""
