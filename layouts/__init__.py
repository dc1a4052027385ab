"""A true-scale printing library: drawings, paper, printers and scans of prints, in millimetres."""
