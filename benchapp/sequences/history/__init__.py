"""What has happened to a unit: the ledger of its entries, faults, repairs, retest scope, how each step stands."""
