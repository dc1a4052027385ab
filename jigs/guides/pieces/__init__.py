"""What guides are put together from: what several of them show, and parts of one that fill a file of their own."""
