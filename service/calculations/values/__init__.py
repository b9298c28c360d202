"""Single values for the cells of a spreadsheet: parameters of an address in, one number out."""
