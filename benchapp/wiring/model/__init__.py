"""What a file says of a design: equipment, connectors, faces, values, and the circuit as branches between nodes."""
