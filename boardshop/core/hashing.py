"""Hashes that are worked out once: plans are the keys of what several sections keep of them."""


class HashedOnce:
    """A base of frozen dataclasses whose values are long to hash; they say `__hash__ = HashedOnce.__hash__`.

    All fields count: plans that differ in one place follow one another with every edit, and where their
    hashes were alike each look-up would compare them part by part.
    """

    __slots__ = ("_hash",)

    _hash: int

    def __hash__(self) -> int:
        try:
            return self._hash
        except AttributeError:
            fields = tuple(getattr(self, name) for name in type(self).__slots__)
            object.__setattr__(self, "_hash", hash(fields))
            return self._hash
