"""sheetgen: job sheets for lighting circuits, solved in every setting of the switches."""
