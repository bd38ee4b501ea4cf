"""One function per thing a person does; each returns what it changed (`ChangeSet`)."""
