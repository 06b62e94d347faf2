"""What there is: blocks, measurements, formats, bodies, plugins."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from blockwright.cli.host import answering, loaded, only, warn
from blockwright.errors import InputError
from blockwright.spelling import nearest_to

PLUGIN_FAILED = 3

if TYPE_CHECKING:
    from blockwright.body.lengths import Unit
    from blockwright.plugin.block import Block


UNIT = click.option(
    "--unit", type=click.Choice(["cm", "mm", "in"]), default="cm", help="Unit to print in."
)


@click.command()
@click.argument("key", required=False)
@UNIT
def blocks(key: str | None, unit: str) -> None:
    """List the blocks, or show what one block needs and offers."""
    from blockwright.body.lengths import Unit

    host = loaded()
    if key is None:
        _columns([(name, host.says(name)) for name in sorted(host.blocks)])
    else:
        from blockwright.job.load import blocks_of

        (block,) = blocks_of(host, [key], warn)
        _page(block, Unit(unit))


def _page(block: type[Block], unit: Unit) -> None:
    from blockwright.body.measurements import lookup
    from blockwright.plugin.block import OptionalField, first_line

    click.echo(f"{block.key}: {block.title}\n{first_line(block)}\n\nMeasurements")
    rows = []
    for field in block.measurements():
        how = lookup(field.name).how
        if isinstance(field, OptionalField):
            how += " If given, the draft is checked against it."
        if field.estimates:
            how += f" If absent: {'; or else '.join(rule.says for rule in field.estimates)}."
        rows.append((field.name, how))
    _columns(rows)
    if block.offers:
        click.echo(f"\nOffers to a block drafted with it\n  {', '.join(block.offers)}")
    if takes := block.taken_runs():
        click.echo(f"\nTakes from a block drafted with it\n  {', '.join(takes)}")
    click.echo("\nOptions")
    for option in block.options():
        click.echo(f"  {option.name}: {option.says}")
        click.echo(f"      {option.allowed(unit)}; default {option.shown(option.default, unit)}")


@click.command()
@UNIT
def measurements(unit: str) -> None:
    """List what a body sheet may hold and how each is taken."""
    from blockwright.body.lengths import Unit, format_length
    from blockwright.body.measurements import measurements as every

    for name, known in every().items():
        low, high = format_length(known.low, Unit(unit)), format_length(known.high, Unit(unit))
        click.echo(f"{name}: {known.how} {low} to {high}. [{known.source}]")


CAUTION = """
Check the scale on scrap before cutting good cloth: measure the test bars or squares both ways.
Blades, drills and lasers hurt: guard the blade, keep hands out of the machine's reach, cut away
from the hand; with a laser extraction, eyewear and a fire watch, and no vinyl. On children's
clothes mind cords and drawstrings (EN 14682, ASTM F1816) and small parts. The machine's manual,
local rules and qualified people come first."""


@click.command()
def formats() -> None:
    """List the file formats, their units, scale and options."""
    from blockwright.body.lengths import Unit

    host = loaded()
    for name, form in sorted(host.formats.items()):
        reads = "; can be read" if form.read else ""
        click.echo(f"{name} ({form.suffix}{reads}): {form.says}")
        for option in form.options.declared():
            usual = option.shown(option.default, Unit.MM)
            click.echo(f"    --{option.name}: {option.says}; {option.allowed(Unit.MM)}; {usual}")
    click.echo(CAUTION)


@click.command()
@click.argument("source", required=False)
def bodies(source: str | None) -> None:
    """List the sources of bodies, or the bodies of one.

    They are drafted for with --body SOURCE:BODY.
    """
    host = loaded()
    if source is None:
        _columns([(name, each.says) for name, each in sorted(host.bodies.items())])
        return
    if source not in host.bodies:
        known = sorted(host.bodies)
        if near := nearest_to(source, known):
            raise InputError.coded("body.misspelt-source", source=source, near=near)
        raise InputError.coded("body.unknown-source", source=source, known=known)
    with answering(f"source of bodies {source!r} of {host.owner('bodies', source)}"):
        names = host.bodies[source].known()
    for name in names:
        click.echo(f"{source}:{name}")


@click.command()
def plugins() -> int:
    """List the plugins, what each offers and its faults.

    Exit 3 if there is a fault.
    """
    from blockwright.plugin.api import API_VERSION
    from blockwright.plugin.host import load
    from blockwright.plugin.loader import OFFERS

    host = load(only=only()).checked()
    click.echo(f"plugin API {API_VERSION}")
    for plugin in host.plugins:
        api = f"API {plugin.api}" if plugin.api else "API not stated"
        click.echo(f"{plugin.name}  {plugin.distribution} {plugin.version}  {api}")
        for offer in OFFERS:
            if offer.hook in plugin.hooks:
                names = ", ".join(getattr(plugin, offer.kind)) or "nothing"
                click.echo(f"    {offer.hook}: {names}")
        for fault in plugin.faults:
            click.echo(f"    fault: {fault}")
    return PLUGIN_FAILED if host.faults else 0


def _columns(rows: list[tuple[str, str]]) -> None:
    width = max((len(name) for name, _ in rows), default=0)
    for name, words in rows:
        click.echo(f"  {name:<{width}}  {words}")
