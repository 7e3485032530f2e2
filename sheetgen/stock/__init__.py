"""The stock: every dwelling of a landlord at once and over the years; its register, its index, its changes."""
