"""A loss of fluids rehearsed: who is affected, what is nearest, how long what is left lasts."""
