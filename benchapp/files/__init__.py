"""Text of a YAML file -> checked model + the place of every value; knows no model of its own."""
