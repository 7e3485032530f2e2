"""Union-find on whole numbers: which of them are joined."""

from __future__ import annotations


class Joined:
    """The numbers 0 to n-1, each by itself at first. The representative of a set is the smallest number in it."""

    def __init__(self, n: int):
        self._parent = list(range(n))

    def find(self, i: int) -> int:
        """The representative of the set that `i` is in."""
        parent = self._parent
        while parent[i] != i:
            parent[i] = parent[parent[i]]
            i = parent[i]
        return i

    def join(self, a: int, b: int) -> None:
        """Make one set of the sets of `a` and `b`."""
        a, b = self.find(a), self.find(b)
        if a < b:
            self._parent[b] = a
        else:
            self._parent[a] = b

    def copy(self) -> Joined:
        """The same sets, to be joined further on their own."""
        other = Joined(0)
        other._parent = list(self._parent)
        return other

    def all(self) -> list[int]:
        """The representative of every number, in order."""
        return [self.find(i) for i in range(len(self._parent))]
