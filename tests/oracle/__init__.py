"""An independent judge of circuits: states, currents, roles and dangers, sharing no code with the solver or the check.

It reads the plain values of a wiring (accessories, contacts, loads, core ends) and nothing else of the project.
"""
