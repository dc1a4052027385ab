"""The cutting-stock problem: pieces from whole lengths, least paid. Stands by itself; lengths in whole mm."""
