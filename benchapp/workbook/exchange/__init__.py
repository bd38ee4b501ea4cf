"""Day files: what benches that work apart bring together."""
