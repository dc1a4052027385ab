"""What a person does, one function for each thing: values in, values out, whichever door they come through."""
