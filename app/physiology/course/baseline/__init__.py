"""Where a course starts from: results as measured, reconciled, worked out or taken as usual."""
