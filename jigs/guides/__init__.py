"""The printed aids, one file each: from `making` values to drawings at true size."""
