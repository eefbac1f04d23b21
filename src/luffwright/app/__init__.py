"""The verbs: one function each, typed requests and answers."""
