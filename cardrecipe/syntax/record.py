"""A small base for the many immutable nodes of the tree.

A named tuple costs 0.2 ms and a dataclass 0.9 ms each time the program starts, and the tree has some
fifty kinds of node; this base costs a tenth of that and is seen by type checkers as a frozen dataclass.
"""

from typing import Any, ClassVar, Self, dataclass_transform


@dataclass_transform(frozen_default=True)
class Record:
    """Fields are the annotations of the class, in order, as keyword or positional arguments.

    Equality and hash go by the type and the fields; assignment raises AttributeError.
    """

    _fields: ClassVar[tuple[str, ...]] = ()
    _defaults: ClassVar[dict[str, object]] = {}

    def __init_subclass__(cls) -> None:
        own = [name for name in cls.__dict__.get("__annotations__", {})  # noqa: RUF063 (importing `inspect` is what this avoids)
               if not name.startswith("_")]
        cls._fields = (*cls._fields, *own)
        cls._defaults = {
            **cls._defaults,
            **{name: cls.__dict__[name] for name in own if name in cls.__dict__},
        }

    def __init__(self, *values: Any, **named: Any) -> None:
        fields = self._fields
        if len(values) > len(fields):
            raise TypeError(f"{type(self).__name__} takes {len(fields)} fields, not {len(values)}")
        content = {**self._defaults, **dict(zip(fields, values, strict=False)), **named}
        if len(content) != len(fields):
            odd = set(content).symmetric_difference(fields)
            raise TypeError(f"{type(self).__name__}: missing or unknown fields {sorted(odd)}")
        self.__dict__.update(content)

    def __setattr__(self, name: str, value: object) -> None:
        raise AttributeError(f"{type(self).__name__}.{name} cannot be changed")

    def __eq__(self, other: object) -> bool:
        return type(self) is type(other) and self.__dict__ == other.__dict__

    def __hash__(self) -> int:
        return hash((type(self), *(self.__dict__[name] for name in self._fields)))

    def __repr__(self) -> str:
        inner = ", ".join(f"{name}={self.__dict__[name]!r}" for name in self._fields)
        return f"{type(self).__name__}({inner})"

    def replace(self, **changes: Any) -> Self:
        """The same record with the named fields changed."""
        return type(self)(**{**self.__dict__, **changes})
