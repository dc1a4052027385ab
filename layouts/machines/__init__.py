"""Machines that cut or build: a coupon tried once in each material and thickness, and what follows from it."""
