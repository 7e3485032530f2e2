"""One file for each command; cli.py names them. Only here are files opened and things printed."""
