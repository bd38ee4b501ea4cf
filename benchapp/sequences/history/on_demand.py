"""A mapping whose values are worked out when they are first asked for."""

from collections.abc import Callable, Collection, Iterator, Mapping
from typing import TypeVar

Key = TypeVar("Key")
Value = TypeVar("Value")


class OnDemand(Mapping[Key, Value]):
    """The keys are known, each value comes from `work_out` and is kept; raises KeyError for any other key."""

    __slots__ = ("_keys", "_known", "_work_out")

    def __init__(self, keys: Collection[Key], work_out: Callable[[Key], Value]) -> None:
        self._keys = keys
        self._work_out = work_out
        self._known: dict[Key, Value] = {}

    def __getitem__(self, key: Key) -> Value:
        found = self._known.get(key)
        if found is None:
            if key not in self._keys:
                raise KeyError(key)
            found = self._known[key] = self._work_out(key)
        return found

    def __contains__(self, key: object) -> bool:
        return key in self._keys

    def __iter__(self) -> Iterator[Key]:
        return iter(self._keys)

    def __len__(self) -> int:
        return len(self._keys)

    def forget(self, *keys: Key) -> None:
        """Work the values of these keys out anew when they are next asked for."""
        for key in keys:
            self._known.pop(key, None)
