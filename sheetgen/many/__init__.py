"""Many things to do: each stands alone, here or in processes of its own, on this machine or on a cluster."""
