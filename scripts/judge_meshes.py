#!/usr/bin/env python3
"""An independent judge of the solids: reads the STL files back with trimesh and compares them with the plan.

    judge_meshes.py --stl DIR --plan FILE      judge a packet's parts
    judge_meshes.py --self-test                judge the judge on boxes of known volume

Checked for every part of the plan, all in the box frame and in millimeters:
  - its mesh is there, closed, facing outward, and has the volume the plan states (to 1e-4);
  - no two parts share space.
The plan is JSON with `parts`, a list of objects with `name` (or `names`, several alike), `volume_mm3`, and optionally `stl`, the file's
name; without it the file is the name in lower case with dashes. Exits 0 when all is well, else 1 with the names.
"""

import argparse
import itertools
import json
import re
import tempfile
from pathlib import Path

import manifold3d
import numpy
import trimesh

from verdict import Verdict

# Stated and measured volume may differ by this share: STL keeps single precision.
VOLUME = 1e-4
# Shared space that counts as none, as a share of the smaller part, beside what rounding makes (see `rounding`).
OVERLAP = 1e-6


def slug(name):
    """A name as a file's: lower case, dashes between letters and digits."""
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")


def rounding(mesh):
    """Volume that single precision may add at the skin: area times the last binary digit of a coordinate."""
    return mesh.area * float(numpy.spacing(numpy.float32(numpy.abs(mesh.bounds).max())))


def find(folder, part):
    """The file of a part, or None."""
    stated = part.get("stl")
    if stated:
        for file in (folder / Path(stated).name, folder.parent / stated):
            if file.is_file():
                return file
        return None
    wanted = slug(part["name"])
    return next((file for file in sorted(folder.glob("*.stl")) if slug(file.stem) == wanted), None)


def shared(one, other):
    """The volume that two closed meshes have in common."""
    solids = []
    for mesh in (one, other):
        solid = manifold3d.Manifold(
            manifold3d.Mesh64(
                vert_properties=numpy.asarray(mesh.vertices, dtype=numpy.float64),
                tri_verts=numpy.asarray(mesh.faces, dtype=numpy.uint64),
            )
        )
        if solid.status() != manifold3d.Error.NoError:
            raise ValueError(f"the mesh is no solid: {solid.status()}")
        solids.append(solid)
    return (solids[0] ^ solids[1]).volume()


def meet(one, other):
    """Whether the boxes around two meshes overlap by more than nothing."""
    low = numpy.maximum(one.bounds[0], other.bounds[0])
    high = numpy.minimum(one.bounds[1], other.bounds[1])
    return bool((low < high).all())


def judge_part(verdict, part, file):
    """Judges one mesh by itself; the mesh if it is fit to be compared with others."""
    name = part["name"]
    mesh = verdict.attempt(name, lambda: trimesh.load_mesh(file))
    if mesh is None:
        return None
    closed = verdict.check(name, mesh.is_watertight, f"{file.name} is not closed")
    outward = verdict.check(name, mesh.is_winding_consistent and mesh.volume > 0, f"{file.name} faces inward")
    stated = float(part["volume_mm3"])
    says = f"the plan says {stated:.3f} mm3, {file.name} holds {mesh.volume:.3f} mm3"
    verdict.check(name, stated > 0 and abs(mesh.volume - stated) <= VOLUME * stated, says)
    return mesh if closed and outward else None


def judge(folder, plan, verdict):
    """Judges all meshes of a plan."""
    # A kind of part may stand for several alike, each with its own name and solid.
    parts = [
        {**kind, "name": name} for kind in plan.get("parts", []) for name in kind.get("names", [kind.get("name", "")])
    ]
    verdict.check("plan", bool(parts), "it names no parts")
    names = [part["name"] for part in parts]
    verdict.check("plan", len(set(names)) == len(names), "two parts have one name")
    meshes, used = [], set()
    for part in parts:
        file = find(folder, part)
        if verdict.check(part["name"], file is not None, f"no STL file of it in {folder}"):
            used.add(file)
            mesh = judge_part(verdict, part, file)
            if mesh is not None:
                meshes.append((part["name"], mesh))
    for file in sorted(folder.glob("*.stl")):
        verdict.check(file.name, file in used, "no part of the plan has this file")
    for (name, one), (other_name, other) in itertools.combinations(meshes, 2):
        pair = f"{name} and {other_name}"
        if not meet(one, other):
            verdict.check(pair, True)
            continue
        volume = verdict.attempt(pair, lambda one=one, other=other: shared(one, other))
        if volume is not None:
            least = OVERLAP * min(one.volume, other.volume) + rounding(one) + rounding(other)
            verdict.check(pair, volume <= least, f"they share {volume:.4f} mm3 (at most {least:.4f})")


def box(folder, name, size, at):
    """Writes a block as STL; `at` is its lower corner."""
    mesh = trimesh.creation.box(extents=size)
    mesh.apply_translation(numpy.asarray(at) + numpy.asarray(size) / 2)
    mesh.export(folder / f"{slug(name)}.stl")
    return mesh


def self_test(verdict):
    """Blocks of known volume: two that touch are passed, each kind of fault is found."""

    def judged(change):
        with tempfile.TemporaryDirectory() as place:
            folder = Path(place)
            box(folder, "Front wall", (100, 12, 60), (0, 0, 0))
            box(folder, "Left wall", (12, 80, 60), (0, 12, 0))
            plan = {
                "parts": [
                    {"name": "Front wall", "volume_mm3": 100.0 * 12 * 60},
                    {"name": "Left wall", "volume_mm3": 12.0 * 80 * 60},
                ]
            }
            change(folder, plan)
            inner = Verdict(quiet=True)
            judge(folder, plan, inner)
            return inner.failures

    def open_mesh(folder, _):
        mesh = trimesh.creation.box(extents=(100, 12, 60))
        mesh.apply_translation((50, 6, 30))
        mesh.update_faces(numpy.arange(len(mesh.faces)) > 0)
        mesh.export(folder / "front-wall.stl")

    def inverted(folder, _):
        mesh = box(folder, "Front wall", (100, 12, 60), (0, 0, 0))
        mesh.invert()
        mesh.export(folder / "front-wall.stl")

    def named(folder, plan):
        (folder / "front-wall.stl").rename(folder / "a.stl")
        plan["parts"][0]["stl"] = "stl/a.stl"

    cases = [
        ("touching blocks", lambda *_: None, 0, ""),
        ("a file named in the plan", named, 0, ""),
        ("overlap of 0.1 mm", lambda f, _: box(f, "Left wall", (12, 80, 60), (0, 11.9, 0)), 1, "they share"),
        ("wrong volume", lambda _, p: p["parts"][0].update(volume_mm3=72010.0), 1, "the plan says"),
        ("an open mesh", open_mesh, 1, "is not closed"),
        ("an inverted mesh", inverted, 2, "faces inward"),
        ("a missing mesh", lambda f, _: (f / "left-wall.stl").unlink(), 1, "no STL file"),
        ("one mesh too many", lambda f, _: box(f, "Lid", (9, 9, 9), (200, 0, 0)), 1, "no part of the plan"),
        ("no parts", lambda _, p: p.update(parts=[]), 3, "names no parts"),
    ]
    for name, change, want, says in cases:
        failures = judged(change)
        told = not says or any(says in failure for failure in failures)
        verdict.check(f"self-test: {name}", len(failures) == want and told, f"wanted {want} failures, got {failures}")


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--stl", type=Path, help="folder of STL files, one for each part")
    parser.add_argument("--plan", type=Path, help="the plan as JSON")
    parser.add_argument("--self-test", action="store_true", help="judge the judge")
    asked = parser.parse_args()
    verdict = Verdict()
    if asked.self_test:
        self_test(verdict)
    elif asked.stl and asked.plan:
        plan = verdict.attempt(asked.plan.name, lambda: json.loads(asked.plan.read_text(encoding="utf-8")))
        if plan is not None:
            verdict.attempt(asked.plan.name, lambda: judge(asked.stl, plan, verdict))
    else:
        parser.error("give --stl and --plan, or --self-test")
    verdict.close()


if __name__ == "__main__":
    main()
