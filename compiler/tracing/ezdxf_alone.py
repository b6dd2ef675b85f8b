"""ezdxf, the library for DXF, imported without what it does besides."""

from __future__ import annotations

import configparser
import importlib
import os
import sys
import tempfile
from pathlib import Path
from typing import Any

_NO_FONTS = '{"version": 2, "font-faces": []}'


def ezdxf_alone() -> Any:
    """The library.

    On import it reads settings from the user's home and from the folder it is called in, looks
    through all fonts of the machine and writes what it finds into the user's home. None of that
    concerns a drawing: here it finds no settings, and a list that holds no fonts.
    """
    if "ezdxf" not in sys.modules:
        homes = {name: os.environ.get(name) for name in ("XDG_CACHE_HOME", "XDG_CONFIG_HOME")}
        read = configparser.ConfigParser.read
        with tempfile.TemporaryDirectory() as home:
            fonts = Path(home, "ezdxf", "font_manager_cache.json")
            fonts.parent.mkdir()
            fonts.write_text(_NO_FONTS, encoding="utf-8")
            try:
                os.environ.update(dict.fromkeys(homes, home))
                configparser.ConfigParser.read = lambda *_, **__: []  # type: ignore[method-assign]
                importlib.import_module("ezdxf")
            finally:
                configparser.ConfigParser.read = read  # type: ignore[method-assign]
                for name, value in homes.items():
                    os.environ.pop(name)
                    if value is not None:
                        os.environ[name] = value
    return sys.modules["ezdxf"]
