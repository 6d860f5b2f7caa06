"""The words of drugs, blood and nutrition: how they stand, where they run, what they hold."""
