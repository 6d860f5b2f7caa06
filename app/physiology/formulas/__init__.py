"""Published formulas written out: expression, terms, source, limits and worked examples."""
