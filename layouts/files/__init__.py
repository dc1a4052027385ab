"""Files that people own: written whole, changed without loss, read with every fault named."""
