"""Puts this folder on the path of every test, so that those in folders of their own find `circuits`."""
