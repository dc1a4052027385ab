"""Drawings on pages: the sheet with its frame, tiles of what is too large, small pieces nested."""
