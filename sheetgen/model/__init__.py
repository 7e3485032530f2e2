"""The nouns: frozen values that know nothing of the stages that make or use them."""
