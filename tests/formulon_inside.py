"""Calls into formulon without asking at each of them what kinds of numbers the function takes: reached for here alone.

formulon makes some calls a value, and wasmtime's own way of calling takes ten times as long as what is called. What is
private of either is relied on in the versions named here alone; others are called as they come, which is only slower.
"""

from __future__ import annotations

from collections.abc import Callable
from ctypes import byref
from functools import cache
from importlib.metadata import version

import wasmtime
from formulon import Value, Workbook

KNOWN = {"formulon": "0.18.0", "wasmtime": "49.0.0"}


@cache
def known() -> bool:
    """Whether these are the versions that are looked into."""
    return {package: version(package) for package in KNOWN} == KNOWN


@cache
def quicker() -> None:
    """Let formulon call its functions like that; it is loaded if it was not."""
    if not known():
        return
    from formulon._c import LIB

    store = LIB.store  # loads it
    for name, export in LIB._exports.items():
        if isinstance(export, wasmtime.Func):
            LIB._exports[name] = _prepared(export, store)
    LIB._export_wrappers.clear()


def _prepared(function: wasmtime.Func, store: wasmtime.Store) -> Callable[..., int | float | None]:
    from wasmtime import _ffi as ffi
    from wasmtime._func import enter_wasm

    kinds = function.type(store)
    marks = {"i32": ffi.WASMTIME_I32.value, "i64": ffi.WASMTIME_I64.value, "f64": ffi.WASMTIME_F64.value}
    given, found = ((ffi.wasmtime_val_t * len(some))() for some in (kinds.params, kinds.results))
    for slot, one in zip((*given, *found), (*kinds.params, *kinds.results)):
        slot.kind = marks[str(one)]
    slots, places = [slot.of for slot in given], [str(one) for one in kinds.params]
    result = (found[0].of, str(kinds.results[0])) if kinds.results else None
    pointer, context = byref(function._func), store._context()

    def call(_: wasmtime.Store, *numbers: float) -> int | float | None:
        for slot, place, number in zip(slots, places, numbers, strict=True):
            setattr(slot, place, number)
        with enter_wasm(store) as trap:
            error = ffi.wasmtime_func_call(context, pointer, given, len(given), found, len(found), trap)
            if error:
                raise wasmtime.WasmtimeError._from_ptr(error)
        return getattr(*result) if result else None

    return call


@cache
def _slot() -> int:
    from formulon._c import LIB, fm_value_t_size

    place: int = LIB.alloc(fm_value_t_size)
    return place


def value(book: Workbook, sheet: int, row: int, column: int) -> Value:
    """As its own `get_value`, but that all values are given into the same place, not each into one made for it."""
    if not known():
        return book.get_value(sheet, row, column)
    from formulon._c import LIB

    assert LIB.fm_workbook_get_value(book._require(), sheet, row, column, _slot()) == 0
    return Value._from_wasm(_slot())
