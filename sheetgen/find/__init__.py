"""What is not known yet: every wiring or fault that fits what was seen, and the shortest plan of tests that tells."""
