"""One page class per kind of step, and one for each other thing that can be due."""
