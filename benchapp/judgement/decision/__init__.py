"""Whether a reading conforms to a band (JCGM 106), and which meter could settle it."""
