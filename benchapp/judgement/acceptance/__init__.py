"""What a step accepts, read from text and turned into a band."""
