"""The index of a stock: to file as PDF, to look through as HTML, to work on as CSV. All three say the same."""
