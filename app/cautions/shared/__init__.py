"""Facts about fluids and sodium that several families judge by."""
