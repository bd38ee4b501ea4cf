"""From checked files to the plan of a run: catalogue, terminals, steps with the roles that they qualify for."""
