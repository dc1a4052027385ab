"""A true-scale printing library: millimetres, paper and printers, and nothing of rings or wire."""
