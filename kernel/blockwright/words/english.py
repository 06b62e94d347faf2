"""The English words of the kernel's codes.

A gap in braces is filled by the value of that name, as `catalogue.say` writes it: a piece, an edge
or a promise by its label in quotes, `{name:plain}` without them, `{name:own}` by its own name
without the word of its block, `{gap:mm}` as millimetres, `{x:whole}` without decimals, `{run:and}`
as a list.
"""

from __future__ import annotations

from collections.abc import Mapping

WORDS: Mapping[str, str] = {
    # What was measured: the rows of the proof.  `{subject}` is the promise, the piece or the dart.
    "seam": "seam: {subject:plain}",
    "seam.stretch": "seam: {subject:plain}: {since:or start} to {to:or end}",
    "twin": "twin: {subject:plain}: copies that are mirror images",
    "corner": "corner: {subject:plain}",
    "level": "level: {subject:plain}",
    "through": "through: {subject:plain}",
    "shape.bends": "shape: {subject:plain}: changes from hollow to full",
    "shape.turns-back": "shape: {subject:plain}: turns back",
    "girth": "girth: {subject:plain}",
    "outline.closes": "outline: {subject:plain} closes",
    "outline.simple": "outline: {subject:plain} does not cross itself",
    "outline.counter-clockwise": "outline: {subject:plain} does not run clockwise",
    "outline.grain": "outline: {subject:plain} has its grain inside",
    "outline.label": "outline: {subject:plain} has its label inside",
    "outline.darts": "outline: {subject:plain}: darts inside, clear of each other",
    "dart-legs": "dart legs: {subject:own} of {piece:plain}",
    # Why nothing was measured, or what to do.
    "run.apart": "{after} does not follow {before}: they neither meet nor is there a dart or a "
    "promised seam between them",
    "run.turned": "{after} does not follow {before}: they neither meet nor is there a dart or a "
    "promised seam between them; {before} follows {after}",
    "copies.more": "{often} of {edge} are sewn and {cut} is cut; cut more",
    "copies.as-drawn": "no {edge} is cut as drawn; cut mirrored pairs, or walk it the other way",
    "copies.turned": "no {edge} is cut the other way up; cut mirrored pairs, or walk it the other "
    "way",
    "count.edge": "{edge} is counted {often} times and cut {cut}; check cut and times",
    "count.piece": "piece {piece} is counted {often} times and cut {cut}; check cut and times",
    "count.corner": "corner ({first}, {second}) is named {often} times and cut {cut}",
    "notch.missing": "there is no notch {notch} on {run:and}; there is {there:list}",
    "notch.twice": "there are two {notch} on {run:and}; promise each part by itself",
    "notch.ticks": "notch {notch} is {a} on one side and {b} on the other; give both one count",
    "twin.cut-more": "piece {piece} is cut {cut}; cut=2 or more",
    "twin.not-mirrored": "piece {piece} is cut {cut}; cut mirrored pairs, or give its fold the "
    "role 'fold'",
    "corner.turned": "the outline runs from {second} to {first}; write ({second}, {first})",
    "corner.apart": "after {first} comes {after} on piece {piece}",
    "level.along-edge": "the level across {piece} runs along its edge; draw it clear of that",
    "level.ends-in-cloth": "the level across {piece} ends in the cloth, over {past:whole} mm from "
    "its edge; draw it from edge to edge",
    "outline.open": "piece {piece} does not close: edge {before} ends {gap:mm} from where {after} "
    "begins; let them share a point",
    "outline.crosses": "{edge} crosses {other} at ({x:whole}, {y:whole})",
    "outline.crosses-itself": "{edge} crosses itself at ({x:whole}, {y:whole})",
    "outline.list-edges": "list its edges counter-clockwise, y up",
    "outline.move-grain": "move an end of grain",
    "outline.move-label": "move label_at",
    # Why a promise was given up by a change.
    "gone": "what it speaks of is gone",
    "drawn-anew": "{edge} was drawn anew",
    "turned": "the cloth of {edge} was turned against the grain",
}
