"""From an order to what is bought, wound, cut and paid: frozen values that add up to the last digit."""
