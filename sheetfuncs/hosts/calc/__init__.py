"""LibreOffice Calc: `pack.build` writes an extension that carries the functions into it.

`functions`, `runtime`, `component` and `job` travel inside the extension; `typelib`, `config` and `pack` make it.
"""
