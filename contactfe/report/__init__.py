"""What the engineer sees of a comparison: it draws and writes, and computes nothing anew."""
