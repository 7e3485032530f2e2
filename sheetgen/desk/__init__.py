"""A page on this machine on which a description is written by choosing, with the drawing and the findings beside it.

The file stays the truth: every choice is a change of its text, which leaves all the rest of it as it was written.
"""
