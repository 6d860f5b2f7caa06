"""Plans that are kept: as documents, and held against today."""
