"""Circuit analysis, for the stage that solves a wiring and for the checks that solve a changed one to explain a fault."""
