"""What happens to the stock: bending, coiling, cutting, closing. Pure functions and frozen values."""
