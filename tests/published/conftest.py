"""What is beside these tests and is not one of them."""

collect_ignore = ["three_dimensions.py"]  # is run by hand, with a library that no test needs
