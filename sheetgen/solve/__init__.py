"""Circuit analysis, for the stage that solves a wiring and the checks that explain a fault."""
