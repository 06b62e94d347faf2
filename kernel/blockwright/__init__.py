"""Blockwright: body measurements in, a block out whose every seam is solved and proved.

These are the public names; plugins use nothing else.  Each is loaded when first asked for.
`hookimpl` is put above a function of a plugin that answers a hook, and `API_VERSION` is the version
of the plugin API: these names and the hooks.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from blockwright.public import public

__docformat__ = "google"

if TYPE_CHECKING:
    from blockwright.body.lengths import Unit as Unit
    from blockwright.body.lengths import format_length as format_length
    from blockwright.body.lengths import parse_length as parse_length
    from blockwright.body.sheet import BodySheet as BodySheet
    from blockwright.body.sheet import load_sheet as load_sheet
    from blockwright.body.sheet import parse_sheet as parse_sheet
    from blockwright.changes.change import changed as changed
    from blockwright.changes.move_dart import move_dart as move_dart
    from blockwright.changes.shorten_dart import shorten_dart as shorten_dart
    from blockwright.changes.spread import spread as spread
    from blockwright.changes.take_in import take_in as take_in
    from blockwright.curves.affine import Affine as Affine
    from blockwright.curves.chain import contains as contains
    from blockwright.curves.chain import join as join
    from blockwright.curves.chain import signed_area as signed_area
    from blockwright.curves.curve import Curve as Curve
    from blockwright.curves.fair import FairSpline as FairSpline
    from blockwright.curves.fair import fair_curve as fair_curve
    from blockwright.curves.fair import fair_spline as fair_spline
    from blockwright.curves.make import arc as arc
    from blockwright.curves.make import arc_between as arc_between
    from blockwright.curves.make import arc_through as arc_through
    from blockwright.curves.make import line as line
    from blockwright.curves.make import polyline as polyline
    from blockwright.curves.meet import intersections as intersections
    from blockwright.curves.meet import nearest as nearest
    from blockwright.curves.offset import parallel as parallel
    from blockwright.curves.point import Point as Point
    from blockwright.curves.point import distance as distance
    from blockwright.curves.ruled import on_line as on_line
    from blockwright.curves.ruled import points_on_line as points_on_line
    from blockwright.errors import BlockwrightError as BlockwrightError
    from blockwright.errors import GeometryError as GeometryError
    from blockwright.errors import InputError as InputError
    from blockwright.errors import InputErrors as InputErrors
    from blockwright.errors import NoSolutionError as NoSolutionError
    from blockwright.errors import PatternError as PatternError
    from blockwright.errors import PluginError as PluginError
    from blockwright.formats.cad import from_cadquery as from_cadquery
    from blockwright.formats.cad import to_cadquery as to_cadquery
    from blockwright.pattern.dart import roof_between as roof_between
    from blockwright.pattern.document import as_document as as_document
    from blockwright.pattern.document import from_document as from_document
    from blockwright.pattern.draft import Draft as Draft
    from blockwright.pattern.finish import Finish as Finish
    from blockwright.pattern.finish import FinishedPiece as FinishedPiece
    from blockwright.pattern.finish import finish as finish
    from blockwright.pattern.finish import finish_all as finish_all
    from blockwright.pattern.finish_sheet import load_finish as load_finish
    from blockwright.pattern.lineage import Became as Became
    from blockwright.pattern.lineage import Lineage as Lineage
    from blockwright.pattern.mark import Mark as Mark
    from blockwright.pattern.pattern import Pattern as Pattern
    from blockwright.pattern.piece import Dart as Dart
    from blockwright.pattern.piece import Edge as Edge
    from blockwright.pattern.piece import Given as Given
    from blockwright.pattern.piece import Guide as Guide
    from blockwright.pattern.piece import Notch as Notch
    from blockwright.pattern.piece import Note as Note
    from blockwright.pattern.piece import Piece as Piece
    from blockwright.pattern.piece import Taken as Taken
    from blockwright.pattern.piece import Way as Way
    from blockwright.pattern.promise import Carried as Carried
    from blockwright.pattern.promise import GivenUp as GivenUp
    from blockwright.pattern.promise import Promise as Promise
    from blockwright.pattern.promises.girth import Across as Across
    from blockwright.pattern.promises.seam import Stretch as Stretch
    from blockwright.pattern.ref import Ref as Ref
    from blockwright.pattern.result import Reason as Reason
    from blockwright.pattern.result import Result as Result
    from blockwright.pattern.sketch import Sketch as Sketch
    from blockwright.pattern.sketch import sketch as sketch
    from blockwright.pattern.solve import solve as solve
    from blockwright.pattern.truing import LaidLine as LaidLine
    from blockwright.pattern.truing import Part as Part
    from blockwright.pattern.truing import lay_line as lay_line
    from blockwright.pattern.truing import true_line as true_line
    from blockwright.plugin.block import Block as Block
    from blockwright.plugin.block import Rule as Rule
    from blockwright.plugin.block import measurement as measurement
    from blockwright.plugin.block import optional_measurement as optional_measurement
    from blockwright.plugin.bodies import BodySource as BodySource
    from blockwright.plugin.entry import BlockEntry as BlockEntry
    from blockwright.plugin.file import blocks_in as blocks_in
    from blockwright.plugin.format import Document as Document
    from blockwright.plugin.format import Echo as Echo
    from blockwright.plugin.format import Format as Format
    from blockwright.plugin.format import Output as Output
    from blockwright.plugin.format import Read as Read
    from blockwright.plugin.hookspecs import API_VERSION as API_VERSION
    from blockwright.plugin.hookspecs import hookimpl as hookimpl
    from blockwright.plugin.host import Host as Host
    from blockwright.plugin.host import load as load
    from blockwright.plugin.later import later as later
    from blockwright.plugin.option import LengthOption as LengthOption
    from blockwright.plugin.option import auto_count_option as auto_count_option
    from blockwright.plugin.option import auto_length_option as auto_length_option
    from blockwright.plugin.option import choice_option as choice_option
    from blockwright.plugin.option import count_option as count_option
    from blockwright.plugin.option import length_option as length_option
    from blockwright.plugin.option import ratio_option as ratio_option
    from blockwright.plugin.promise_kind import PromiseKind as PromiseKind
    from blockwright.plugin.run import draft as draft
    from blockwright.plugin.traits import Traits as Traits
    from blockwright.words.proof import Proof as Proof
    from blockwright.words.proof import prove as prove

_HOMES = {
    "body.lengths": ("Unit", "format_length", "parse_length"),
    "body.sheet": ("BodySheet", "load_sheet", "parse_sheet"),
    "changes.change": ("changed",),
    "changes.move_dart": ("move_dart",),
    "changes.shorten_dart": ("shorten_dart",),
    "changes.spread": ("spread",),
    "changes.take_in": ("take_in",),
    "curves.affine": ("Affine",),
    "curves.chain": ("contains", "join", "signed_area"),
    "curves.curve": ("Curve",),
    "curves.fair": ("FairSpline", "fair_curve", "fair_spline"),
    "curves.make": ("arc", "arc_between", "arc_through", "line", "polyline"),
    "curves.meet": ("intersections", "nearest"),
    "curves.offset": ("parallel",),
    "curves.point": ("Point", "distance"),
    "curves.ruled": ("on_line", "points_on_line"),
    "errors": (
        "BlockwrightError",
        "GeometryError",
        "InputError",
        "InputErrors",
        "NoSolutionError",
        "PatternError",
        "PluginError",
    ),
    "formats.cad": ("from_cadquery", "to_cadquery"),
    "pattern.dart": ("roof_between",),
    "pattern.document": ("as_document", "from_document"),
    "pattern.draft": ("Draft",),
    "pattern.finish": ("Finish", "FinishedPiece", "finish", "finish_all"),
    "pattern.finish_sheet": ("load_finish",),
    "pattern.mark": ("Mark",),
    "pattern.lineage": ("Became", "Lineage"),
    "pattern.pattern": ("Pattern",),
    "pattern.piece": ("Dart", "Edge", "Given", "Guide", "Notch", "Note", "Piece", "Taken", "Way"),
    "pattern.promise": ("Carried", "GivenUp", "Promise"),
    "pattern.promises.girth": ("Across",),
    "pattern.promises.seam": ("Stretch",),
    "pattern.ref": ("Ref",),
    "pattern.result": ("Reason", "Result"),
    "pattern.sketch": ("Sketch", "sketch"),
    "pattern.solve": ("solve",),
    "pattern.truing": ("LaidLine", "Part", "lay_line", "true_line"),
    "plugin.block": ("Block", "Rule", "measurement", "optional_measurement"),
    "plugin.format": ("Document", "Echo", "Format", "Output", "Read"),
    "plugin.bodies": ("BodySource",),
    "plugin.entry": ("BlockEntry",),
    "plugin.file": ("blocks_in",),
    "plugin.hookspecs": ("API_VERSION", "hookimpl"),
    "plugin.host": ("Host", "load"),
    "plugin.later": ("later",),
    "plugin.promise_kind": ("PromiseKind",),
    "plugin.traits": ("Traits",),
    "plugin.option": (
        "LengthOption",
        "auto_count_option",
        "auto_length_option",
        "choice_option",
        "count_option",
        "length_option",
        "ratio_option",
    ),
    "plugin.run": ("draft",),
    "words.proof": ("Proof", "prove"),
}
if not TYPE_CHECKING:  # a checker of types sees the imports above, and no name besides
    __all__, __getattr__ = public(__name__, _HOMES)

    def __dir__() -> list[str]:
        return __all__
