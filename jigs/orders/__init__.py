"""What is wanted: an order as frozen values, and its reader that refuses everything wrong at once."""
