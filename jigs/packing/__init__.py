"""From a plan to one print job: which sheets, in which order, small pieces on the fewest pages."""
