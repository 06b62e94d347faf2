# %% [markdown]
# Draft a bodice and its sleeve for Nora of the invented workroom and look at them, cell by cell:
# in a notebook the last line of a cell shows itself.  It runs as plain Python too, and writes
# nothing.

# %%
# ruff: noqa: B018  (a notebook shows what stands alone in the last line of a cell)
from __future__ import annotations

from pathlib import Path

from blockwright import (
    Job,
    Mark,
    Output,
    Point,
    draft,
    fair_curve,
    load,
    load_sheet,
    prove,
    run,
    sketch,
)

# A notebook does not know its file: start it in the folder that holds `examples`.
HERE = Path(globals().get("__file__", "examples/in_a_notebook.py")).parent

host = load()
sheet = load_sheet(HERE / "workroom" / "nora.toml")
pattern = draft([host.block("bodice.fitted"), host.block("sleeve.fitted")], sheet)
pattern

# %% One piece, with the names its edges go by.
front = pattern.piece("bodice front")
front

# %% The proof, in centimetres.
proof = prove(pattern)
proof

# %% The whole job, from keys to files, as the command line does it; here the files are bytes.
job = Job(
    blocks=["bodice.fitted", "sleeve.fitted"],
    body=HERE / "workroom" / "nora.toml",
    options={"hem_allowance": "4 cm"},
    finish="usual",
    outputs=["svg", Output("tiles", {"paper": "a3"})],
)
outcome = run(job)
{name: len(data) for name, data in outcome.files.items()}

# %% A hollow drawn through three marks, level where it ends.
marks = [
    Mark(0.0, 210.0, "shoulder", "where the shoulder ends"),
    Mark(-20.0, 105.0, "pitch", "half way down, 20 mm in"),
    Mark(60.0, 0.0, "underarm", "60 mm out, on the chest line"),
]
hollow = fair_curve(marks, end=Point(1.0, 0.0))
sketch(hollow, *marks)

# %%
print(
    f"A notebook shows {pattern.title} for {pattern.body}, {len(pattern.pieces)} pieces, of them "
    f"the {front.name} alone; "
    f"a proof of {len(proof.results)} promises, {len(proof.broken)} broken; "
    f"{len(outcome.files)} files of {outcome.document.pattern.title}; "
    f"a curve of {hollow.length / 10.0:.1f} cm through {len(marks)} marks."
)
