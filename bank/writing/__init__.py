"""Every sentence and formula that a person reads."""
