"""What came out, told to others: as data for machines, and as lines for a writer."""
