"""The numbers of the bench: units, what a technician types, preferred values, formulas with units."""
