"""The grammar of a problem list: clauses, denials, history, short forms, slips of the pen."""
