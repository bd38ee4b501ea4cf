"""The sequence language: models, cross-references, the engine, interlocks, retest scope."""
