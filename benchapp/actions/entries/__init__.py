"""What a person does to a unit or a day: answers, faults, repairs, openings, intake, outcomes."""
