"""Things drawn from marks that many sheets share: scales, dimension lines, tables."""
