"""Calls into formulon without asking at each of them what kinds of numbers the function takes: reached for here alone.

formulon makes some calls a value, and wasmtime's own way of calling takes ten times as long as what is called.
"""

from __future__ import annotations

from collections.abc import Callable
from ctypes import byref
from functools import cache

import wasmtime
from formulon import Value, Workbook
from formulon._c import LIB, fm_value_t_size
from wasmtime import _ffi as ffi
from wasmtime._func import enter_wasm

KINDS = {
    "i32": (ffi.WASMTIME_I32.value, "i32"),
    "i64": (ffi.WASMTIME_I64.value, "i64"),
    "f64": (ffi.WASMTIME_F64.value, "f64"),
}
"""The numbers of WebAssembly that formulon takes and gives: how they are marked, and where they stand."""


@cache
def quicker() -> None:
    """Let formulon call its functions like that; it is loaded if it was not."""
    store = LIB.store
    for name, export in LIB._exports.items():
        if isinstance(export, wasmtime.Func):
            LIB._exports[name] = _prepared(export, store)
    LIB._export_wrappers.clear()


def _prepared(function: wasmtime.Func, store: wasmtime.Store) -> Callable[..., int | float | None]:
    kinds = function.type(store)
    given, found = ((ffi.wasmtime_val_t * len(some))() for some in (kinds.params, kinds.results))
    places = [KINDS[str(one)][1] for one in kinds.params]
    for slot, one in zip((*given, *found), (*kinds.params, *kinds.results)):
        slot.kind = KINDS[str(one)][0]
    slots = [slot.of for slot in given]
    result = (found[0].of, KINDS[str(kinds.results[0])][1]) if kinds.results else None
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
    return LIB.alloc(fm_value_t_size)


def value(book: Workbook, sheet: int, row: int, column: int) -> Value:
    """As its own `get_value`, but that all values are given into the same place, not each into one made for it."""
    assert LIB.fm_workbook_get_value(book._require(), sheet, row, column, _slot()) == 0
    return Value._from_wasm(_slot())
