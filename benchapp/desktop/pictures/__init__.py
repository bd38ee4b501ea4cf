"""What is drawn on a bench page: the plug, the item, the line to the wall, the meter, the plate, the circuit."""
