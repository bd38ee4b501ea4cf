"""Tags, record sheets and pin cards: their content from the record, their files."""
