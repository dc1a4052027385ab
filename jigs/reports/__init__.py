"""From a value to neutral tables, said once; and the printers of such tables, one small file each."""
