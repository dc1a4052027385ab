"""What the user owns and has recorded, in the files of the bench folder."""
