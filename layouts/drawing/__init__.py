"""Marks, pens and lettering, and what sheets share that is drawn from them: scales, dimension lines, tables."""
