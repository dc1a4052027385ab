"""The cutting-stock problem: pieces of wire from whole lengths. Knows nothing of rings; lengths in whole mm."""
