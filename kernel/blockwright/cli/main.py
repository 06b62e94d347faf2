"""The command line: exit 0 done, 1 a promise is broken, 2 the input is wrong, 3 a plugin failed."""

from __future__ import annotations

import gc
import os
import sys
import threading

import click

from blockwright.cli.authors import check, try_file
from blockwright.cli.convert import convert
from blockwright.cli.draft import draft
from blockwright.cli.new import new
from blockwright.cli.show import PLUGIN_FAILED, blocks, bodies, formats, measurements, plugins
from blockwright.errors import BlockwrightError, PatternError, PluginError

WRONG_INPUT = 2
STOPPED = 130


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(package_name="blockwright", message="%(package)s %(version)s")
@click.option(
    "--only",
    metavar="NAMES",
    help="Load only these plugins or distributions, with commas between.  "
    "[default: BLOCKWRIGHT_PLUGINS, else all]",
)
def app(only: str | None) -> None:  # commands ask for it when they load plugins
    """Body measurements in, a sewing-pattern block out whose every seam is solved and proved."""


for command in (
    blocks,
    measurements,
    bodies,
    formats,
    draft,
    convert,
    plugins,
    new,
    try_file,
    check,
):
    app.add_command(command)


def main(arguments: list[str] | None = None) -> None:
    """Run the command line and exit; every mistake is one clear line on stderr."""
    # The process is over before there is anything to collect, and its matrices are too small to
    # share out among threads: looking for the one and starting the other takes longer than a draft.
    gc.disable()
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    for stream in (sys.stdout, sys.stderr):
        # A letter that the terminal does not have is printed as its code.
        stream.reconfigure(errors="backslashreplace")  # type: ignore[union-attr]
    code = run(arguments)
    gc.freeze()  # nor is anything looked for on the way out
    if any(not thread.daemon for thread in threading.enumerate()[1:]):
        # What a plugin left running would be waited for, for ever it may be.
        sys.stdout.flush()
        sys.stderr.flush()
        os._exit(code)
    sys.exit(code)


def run(arguments: list[str] | None = None) -> int:
    """Run the command line; the exit code."""
    try:
        result = app.main(arguments, prog_name="blockwright", standalone_mode=False)
        return result if isinstance(result, int) else 0
    except click.exceptions.NoArgsIsHelpError as error:
        click.echo(error.format_message(), err=True)
        return WRONG_INPUT
    except (click.Abort, SystemExit) as error:
        # Stopped by hand, or the reader of our output went away.
        if what := str(error.__cause__ or ""):
            click.echo(f"blockwright: {what}", err=True)
        return STOPPED
    except click.ClickException as error:
        message, code = _sentence(error), WRONG_INPUT
    except (PatternError, PluginError) as error:
        message, code = str(error), PLUGIN_FAILED
    except BlockwrightError as error:
        message, code = str(error), WRONG_INPUT
    except OSError as error:
        # A damaged installation, or nowhere to print to.
        where = f"{error.filename}: " if error.filename else ""
        message, code = f"{where}{error.strerror or error}", PLUGIN_FAILED
    for line in message.splitlines():
        click.echo(f"blockwright: {line}", err=True)
    return code


def _sentence(error: click.ClickException) -> str:
    message = " ".join(error.format_message().split())
    context = getattr(error, "ctx", None)
    return f"{message} (see: {context.command_path} --help)" if context else message
