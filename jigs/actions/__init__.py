"""What a person does with the bench: one function for each thing. Values in, values out; any door may call them."""
