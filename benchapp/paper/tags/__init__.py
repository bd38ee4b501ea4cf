"""Tags: their layout and the label sheets that they are printed on."""
