"""Setting and drawing: fonts, wrapping, ink, signs, codes, faces, and pages as pictures."""
