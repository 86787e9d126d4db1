"""Frozen records that are made for every line of a log, and so must be made fast.

A frozen dataclass sets each of its fields by a detour around its own refusal; for an entry that
takes as long as reading the words. A `record` is filled while it is open, and then closed. In
every other way it is that dataclass; nothing but how it is made belongs here.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

__all__ = ["record"]

if TYPE_CHECKING:
    from dataclasses import dataclass as record  # to a type checker it is nothing else
else:
    from dataclasses import FrozenInstanceError, dataclass, fields

    def record(*, frozen: bool, slots: bool, eq: bool = True):
        """As `dataclass`, for a class whose records are frozen and have slots.

        >>> @record(frozen=True, slots=True)
        ... class Jar:
        ...     name: str
        >>> jar = Jar("RC-3")
        >>> jar == Jar("RC-3"), isinstance(jar, Jar)
        (True, True)
        >>> jar.name = "RC-4"
        Traceback (most recent call last):
        dataclasses.FrozenInstanceError: cannot change "name" of Jar
        """
        assert frozen and slots

        def made(cls: type) -> type:
            def close(self: object) -> None:
                self.__class__ = closed

            cls.__post_init__ = close
            opened = dataclass(slots=True, eq=eq, unsafe_hash=eq)(cls)
            closed = type(cls.__name__, (opened,), dict(_CLOSED, __module__=cls.__module__))
            return opened

        return made

    def _refuse(self: object, name: str, *_: object) -> None:
        raise FrozenInstanceError(f'cannot change "{name}" of {type(self).__name__}')

    def _fill(self: object, *values: object, **named: object) -> None:
        """What `replace` asks for: a new record of the closed class, filled while it is open."""
        opened = type(self).__base__
        object.__setattr__(self, "__class__", opened)
        opened.__init__(self, *values, **named)

    def _made_again(self: object) -> tuple[type, tuple[object, ...]]:
        """What a copy is made with, by `copy` and `pickle`."""
        return type(self).__base__, tuple(getattr(self, one.name) for one in fields(self))

    _CLOSED = {
        "__slots__": (),
        "__reduce__": _made_again,
        "__init__": _fill,
        "__setattr__": _refuse,
        "__delattr__": _refuse,
    }
