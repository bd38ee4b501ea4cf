"""The small things that pages are made of: signs, the connector's face, the gauge, the reading field, key hints."""
