"""The version of the plugin API and the mark of a hook."""

from __future__ import annotations

import pluggy

PROJECT = "blockwright"
"""Name of the hook project and of the entry-point group."""

API_VERSION = "4.0"
"""Version of the plugin API: the public names and the hooks.

The first number rises when something a plugin uses is taken away or means another thing, the
second when something is added.  A plugin says what it was written for with a line
`blockwright_api = "4.0"`; one that asks for more than this host has is refused with a message.

Example:
    >>> from blockwright import API_VERSION
    >>> API_VERSION
    '4.0'
"""

hookimpl = pluggy.HookimplMarker(PROJECT)
"""Put above a function of a plugin that answers a hook.

Example:
    >>> from blockwright import hookimpl
    >>> @hookimpl
    ... def blockwright_blocks():
    ...     return []
"""
