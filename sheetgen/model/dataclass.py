"""`@dataclass(frozen=True)` as of the standard library, made for a program that starts anew for every sheet.

The standard decorator compiles six methods for a class when it is defined: for the classes on the way of `job` that was
a fifth of the CPU time of a cold run, spent before a line was read. Here a method is compiled when it is first called.
To a reader, to mypy, to `replace`, `fields`, `pickle` and `match` it is the standard decorator. Whatever is asked for
beyond `frozen=True` is handed on to it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from dataclasses import dataclass as dataclass
else:
    import dataclasses
    from reprlib import recursive_repr

    def dataclass(cls=None, /, **options):
        """The decorator, with or without arguments."""
        if cls is not None or options != {"frozen": True}:
            return dataclasses.dataclass(cls, **options)
        return _frozen

    def _frozen(cls):
        own = frozenset(cls.__dict__)
        cls = dataclasses.dataclass(init=False, repr=False, eq=False)(cls)  # lays the fields down, compiles nothing
        cls.__setattr__, cls.__delattr__ = _refuse_to_set, _refuse_to_delete
        for name, source in _SOURCES.items():
            if name not in own:
                setattr(cls, name, _when_called(cls, name, source))
        if "__repr__" not in own:
            cls.__repr__ = _repr
        return cls

    def _when_called(cls, name, source):
        """A method that is compiled when it is first called, and then takes the place of this one."""

        def method(self, /, *args, **kwargs):
            text, known = source(cls)
            exec(text, known)
            setattr(cls, name, known[name])
            return known[name](self, *args, **kwargs)

        return method

    def _init(cls):
        parameters, lines, known = [], [], {"_set": object.__setattr__, "_unset": object()}
        for field in dataclasses.fields(cls):
            name = value = field.name
            if field.default is not dataclasses.MISSING:
                known[f"_default_{name}"] = field.default
                parameters.append(f"{name}=_default_{name}")
            elif field.default_factory is not dataclasses.MISSING:
                known[f"_make_{name}"] = field.default_factory
                parameters.append(f"{name}=_unset")
                value = f"_make_{name}() if {name} is _unset else {name}"
            else:
                parameters.append(name)
            lines.append(f" _set(self, {name!r}, {value})")
        if hasattr(cls, "__post_init__"):
            lines.append(" self.__post_init__()")
        return "\n".join((f"def __init__({', '.join(('self', *parameters))}):", *(lines or (" pass",)))), known

    def _eq(cls):
        text = f"""def __eq__(self, other):
 if other.__class__ is self.__class__:
  return {_values(cls, 'self')} == {_values(cls, 'other')}
 return NotImplemented"""
        return text, {}

    def _hash(cls):
        return f"def __hash__(self): return hash({_values(cls, 'self')})", {}

    def _values(cls, owner):
        return f"({''.join(f'{owner}.{field.name}, ' for field in dataclasses.fields(cls))})"

    _SOURCES = {"__init__": _init, "__eq__": _eq, "__hash__": _hash}

    @recursive_repr()
    def _repr(self):
        values = (f"{field.name}={getattr(self, field.name)!r}" for field in dataclasses.fields(self))
        return f"{self.__class__.__qualname__}({', '.join(values)})"

    def _refuse_to_set(self, name, value):
        raise dataclasses.FrozenInstanceError(f"cannot assign to field {name!r}")

    def _refuse_to_delete(self, name):
        raise dataclasses.FrozenInstanceError(f"cannot delete field {name!r}")
