"""`NamedTuple` for the start of a program: `typing` would double ours, and `collections` is a sixth of it.

A type checker sees typing's own. At run time a class of annotated fields becomes a tuple whose places have names, as
`collections.namedtuple` makes it; `tests/test_start.py` compares the two.

>>> class Lead(NamedTuple):
...     pitch: float
...     starts: int = 1
>>> Lead(1.5), Lead(1.5)._replace(starts=2).starts, Lead(starts=2, pitch=1.5) == (1.5, 2)
(Lead(pitch=1.5, starts=1), 2, True)
"""

from __future__ import annotations

TYPE_CHECKING = False

if TYPE_CHECKING:
    from typing import NamedTuple
else:
    try:
        from _collections import _tuplegetter  # what named tuples of the standard library are made with as well
    except ImportError:  # a Python that is not CPython

        def _tuplegetter(at: int, told: str) -> property:
            return property(lambda record: record[at], doc=told)

    _new = tuple.__new__

    def _constructor(name: str, fields: tuple[str, ...], defaults: dict[str, object]) -> object:
        """What makes a record of positions, names and defaults."""
        many = len(fields)

        def construct(_cls, /, *values, **named):
            if named or len(values) != many:
                rest = fields[len(values) :]
                given = {**defaults, **named}
                lacking = [field for field in rest if field not in given]
                unknown = [field for field in named if field not in rest]
                if lacking or unknown or len(values) > many:
                    raise TypeError(f"{name} has the fields {', '.join(fields)}: each once, those without a default")
                values = (*values, *[given[field] for field in rest])
            return _new(_cls, values)

        return construct

    def _replace(self, /, **named):
        changed = {**self._asdict(), **named}
        if len(changed) != len(self):
            raise ValueError(f"{type(self).__name__} has no such fields: {', '.join(named)}")
        return _new(type(self), changed.values())

    def _values(self):
        return tuple(self)

    def _asdict(self):
        return dict(zip(self._fields, self))

    def _repr(self):
        return f"{type(self).__name__}({', '.join(f'{field}={value!r}' for field, value in self._asdict().items())})"

    class _Fields(type):
        def __new__(cls, name: str, bases: tuple[type, ...], body: dict) -> type:
            if not bases:
                return super().__new__(cls, name, bases, body)
            fields = tuple(body["__annotations__"])
            defaults = {field: body[field] for field in fields if field in body}
            return type(name, (tuple,), {
                **body,
                **{field: _tuplegetter(at, f"Field {at}") for at, field in enumerate(fields)},
                "__slots__": (), "__match_args__": fields, "_fields": fields, "_field_defaults": defaults,
                "__new__": _constructor(name, fields, defaults), "_make": classmethod(_new), "_replace": _replace,
                "_asdict": _asdict, "__repr__": _repr, "__getnewargs__": _values,
            })  # fmt: skip

    class NamedTuple(metaclass=_Fields):
        """A record: an immutable tuple whose places have names."""


__all__ = ["TYPE_CHECKING", "NamedTuple"]
