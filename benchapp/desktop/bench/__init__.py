"""The Bench: one page per thing that can be due, around it what every page shows. The engine says what is due."""
