"""Marks, pens and lettering, and the parts that sheets share: scales, dimension lines, tables, lists of words."""
