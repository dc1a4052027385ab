"""From drawings to a sheet for a laser or a knife: kerf undone, laid out, in the order in which it is cut."""
