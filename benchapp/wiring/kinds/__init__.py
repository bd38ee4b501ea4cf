"""One file for each kind of part: its model, its branches, its faults, its checks. A new file is found by itself."""
