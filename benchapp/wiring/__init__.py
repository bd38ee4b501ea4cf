"""Equipment circuits: expected readings, probe plan, fault location, which parts move which reading."""
