"""Blocks in a single file, loaded without being installed."""

from __future__ import annotations

import importlib.util
import sys
from importlib.machinery import SourceFileLoader
from pathlib import Path
from types import CodeType
from zlib import crc32

from blockwright.errors import InputError, PluginError
from blockwright.plugin.block import Block, block_fault
from blockwright.plugin.traceback_line import FAILED, failure

NAME = "blockwright_file_{}"
"""What a file's module is called, so that it hides no other module."""


def file_of(block: type[Block]) -> str:
    """The file that a block was loaded from by `blocks_in`; nothing for any other block."""
    if not block.__module__.startswith(NAME.format("")):
        return ""
    file = Path(getattr(sys.modules.get(block.__module__), "__file__", None) or "")
    return str(file.relative_to(Path.cwd()) if file.is_relative_to(Path.cwd()) else file)


class _FromSource(SourceFileLoader):
    """Runs a file as it is now: it reads no compiled copy and leaves none beside the file."""

    def get_code(self, fullname: str) -> CodeType:
        """The file, compiled."""
        return self.source_to_code(self.get_data(self.path), self.path)


def blocks_in(path: str | Path) -> list[type[Block]]:
    """The Block subclasses that a Python file defines, in its order; base classes left out.

    Raises InputError when there is no such file or no block in it, PluginError when it cannot be
    run or a block is not whole.

    Example:
        >>> from pathlib import Path
        >>> from tempfile import TemporaryDirectory
        >>> from blockwright import blocks_in
        >>> band = '''from blockwright import Block
        ... class Band(Block):
        ...     key, title = "waistband.straight", "Waistband"
        ...     def draft(self, d): ...
        ... '''
        >>> with TemporaryDirectory() as folder:
        ...     file = Path(folder, "band.py")
        ...     _ = file.write_text(band)
        ...     [block.key for block in blocks_in(file)]
        ['waistband.straight']
    """
    path = Path(path)
    if not path.is_file():
        code = "block-file.folder" if path.exists() else "block-file.missing"
        raise InputError.coded(code, file=str(path))
    # Files of one name in two folders are two modules.
    name = NAME.format(f"{path.stem}_{crc32(bytes(path.resolve())):08x}")
    spec = importlib.util.spec_from_file_location(name, path)
    if spec is None or spec.loader is None:
        raise InputError.coded("block-file.no-python", file=str(path))
    module = importlib.util.module_from_spec(spec)
    sys.modules[name] = module
    try:
        _FromSource(name, str(path)).exec_module(module)
    except FAILED as error:
        sys.modules.pop(name, None)
        raise PluginError(f"{path} cannot be run: {failure(error)}") from error
    own = [
        found
        for found in vars(module).values()
        if isinstance(found, type) and issubclass(found, Block) and found.__module__ == name
    ]
    bases = {base for block in own for base in block.__mro__[1:]}
    blocks = [block for block in dict.fromkeys(own) if block not in bases]
    if not blocks:
        raise InputError.coded("block-file.no-block", file=str(path))
    for block in blocks:
        if fault := block_fault(block):
            raise PluginError(f"{path}: {fault}")
    keys = [block.key for block in blocks]
    for key in keys:
        if keys.count(key) > 1:
            raise PluginError(f"{path}: two blocks have the key {key!r}; give one another")
    return blocks
