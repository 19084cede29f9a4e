#!/usr/bin/env python3
"""An independent judge of a packet's files: opens each with a library that is not the program's own.

    judge_files.py DIR          judge a packet
    judge_files.py --self-test  judge the judge on small files made here, sound and faulty

Looked for in DIR:
  packet.pdf         pypdf: pages, one known paper size, text on every page, tags, title, embedded fonts; pdfinfo agrees
  drawings/*.svg     XML: size in mm equals the view box, nothing active, nothing from outside, check bars true
  templates/*.dxf    ezdxf: sound, lines on it, inside its stated extents, the check bar 100 mm and 4 in long
  templates/*.svg    as drawings, if there are any
  stl/*.stl          length of the file fits its count of triangles (judge_meshes.py judges the solids)
  parts.csv          rows of one length, no formula, every part of the plan
  timeline.ics       icalendar: dated tasks, each with its own id, lines of legal length (only if there is a file)
  plan.json          parts with names and volumes
Exits 0 when all is well, else 1 with the names.
"""

import argparse
import csv
import json
import logging
import re
import shutil
import struct
import subprocess
import tempfile
import xml.etree.ElementTree as ElementTree
from pathlib import Path

import ezdxf
import icalendar
import pypdf
from ezdxf import bbox
from pypdf.generic import DictionaryObject

from verdict import Verdict

MM_PER_POINT = 25.4 / 72
# Paper by its short and long side in mm (ISO 216; ANSI Y14.1).
PAPERS = {"A4": (210.0, 297.0), "A3": (297.0, 420.0), "Letter": (215.9, 279.4), "Tabloid": (279.4, 431.8)}
# Check bars by the words at their ends: length in mm.
BARS = {("0", "100"): 100.0, ("0", "4"): 101.6}
# A bar and a paper may be off by this, mm.
EXACT = 0.01
PAPER = 0.2
SVG = "{http://www.w3.org/2000/svg}"


def bars(texts, lines):
    """Lengths of check bars: a level line whose ends stand at two words of one height.

    `texts` are (words, x, y) with x at the words' middle; `lines` are ((x, y), (x, y)).
    The words alone are too weak a sign, as are the lines: both must meet.
    """
    found = {}
    for (low, high), length in BARS.items():
        for first, x1, y1 in texts:
            for last, x2, y2 in texts:
                if (first, last) != (low, high) or abs(y1 - y2) > EXACT or x2 <= x1:
                    continue
                for (ax, ay), (bx, by) in lines:
                    level = abs(ay - by) < EXACT and abs(ay - y1) < 12
                    ends = sorted((ax, bx))
                    if level and abs(ends[0] - x1) < 0.5 and abs(ends[1] - x2) < 0.5:
                        found.setdefault(length, []).append(ends[1] - ends[0])
    return found


def judge_bars(verdict, name, found, needed):
    """Bars that are there are true; where they are needed both are there."""
    for length, measured in found.items():
        for value in measured:
            verdict.check(name, abs(value - length) <= EXACT, f"the {length} mm bar measures {value:.4f} mm")
    if needed:
        missing = [length for length in BARS.values() if length not in found]
        verdict.check(name, not missing, f"no check bar of {missing} mm")


def embedded(font):
    """Whether a PDF font carries its own outlines."""
    font = font.get_object()
    descendants = font.get("/DescendantFonts")
    if descendants:
        return all(embedded(inner) for inner in descendants.get_object())
    descriptor = font.get("/FontDescriptor")
    keys = ("/FontFile", "/FontFile2", "/FontFile3")
    return descriptor is not None and any(key in descriptor.get_object() for key in keys)


def judge_pdf(verdict, file):
    reader = pypdf.PdfReader(file, strict=True)
    pages = len(reader.pages)
    verdict.check(file.name, pages > 0, "it has no pages")
    papers = set()
    for number, page in enumerate(reader.pages, 1):
        sides = sorted((float(page.mediabox.width) * MM_PER_POINT, float(page.mediabox.height) * MM_PER_POINT))
        paper = next((n for n, s in PAPERS.items() if all(abs(a - b) < PAPER for a, b in zip(sides, s))), None)
        papers.add(paper)
        name = f"{file.name} page {number}"
        verdict.check(name, paper is not None, f"{sides[0]:.1f} x {sides[1]:.1f} mm is no known paper")
        verdict.check(name, bool(page.extract_text().strip()), "no text can be read on it")
        fonts = page.get("/Resources", DictionaryObject()).get_object().get("/Font", DictionaryObject()).get_object()
        bare = [key for key, font in fonts.items() if not embedded(font)]
        verdict.check(name, not bare, f"fonts {bare} are not embedded")
    verdict.check(file.name, len(papers) == 1, f"several papers in one packet: {papers}")
    verdict.check(file.name, bool(reader.metadata and reader.metadata.title), "it has no title")
    verdict.check(file.name, "/StructTreeRoot" in reader.trailer["/Root"], "it is not tagged for readers")
    if shutil.which("pdfinfo"):
        told = subprocess.run(["pdfinfo", str(file)], capture_output=True, text=True, check=False)
        counted = re.search(r"^Pages:\s+(\d+)$", told.stdout, re.MULTILINE)
        well = counted is not None and int(counted[1]) == pages
        verdict.check(file.name, well, f"pypdf counts {pages} pages, pdfinfo says: {told.stdout}{told.stderr}")


def length_mm(text):
    """An SVG length in mm; an error for any other unit."""
    if not text or not text.endswith("mm"):
        raise ValueError(f"the size {text!r} is not in mm")
    return float(text[:-2])


def svg_marks(root):
    """Words with their middle and straight level or upright lines of an SVG, y up."""
    texts, lines = [], []
    for element in root.iter():
        value = lambda key, element=element: float(element.get(key, "0"))
        if element.tag == f"{SVG}text" and element.get("text-anchor") == "middle" and not element.get("transform"):
            texts.append(("".join(element.itertext()).strip(), value("x"), -value("y")))
        elif element.tag == f"{SVG}line":
            lines.append(((value("x1"), -value("y1")), (value("x2"), -value("y2"))))
    return texts, lines


def judge_svg(verdict, file, full_scale):
    root = ElementTree.parse(file).getroot()
    name = f"{file.parent.name}/{file.name}"
    verdict.check(name, root.tag == f"{SVG}svg", f"its root is {root.tag}")
    left, top, width, height = (float(number) for number in root.get("viewBox", "").replace(",", " ").split())
    same = abs(width - length_mm(root.get("width"))) < EXACT and abs(height - length_mm(root.get("height"))) < EXACT
    verdict.check(name, same and width > 0 and height > 0, "one unit of the view box is not 1 mm")
    title = root.find(f"{SVG}title")
    verdict.check(name, title is not None and bool((title.text or "").strip()), "it has no title")
    active = sorted({e.tag.rpartition("}")[2] for e in root.iter()} & {"script", "foreignObject", "image", "style"})
    verdict.check(name, not active, f"it holds {active}")
    links = [v for e in root.iter() for k, v in e.attrib.items() if k.endswith("href") and not v.startswith("#")]
    verdict.check(name, not links, f"it points outside: {links}")
    drawn = sum(1 for e in root.iter() if e.tag.rpartition("}")[2] in ("line", "polyline", "polygon", "path", "circle"))
    verdict.check(name, drawn > 0, "nothing is drawn")
    texts, lines = svg_marks(root)
    judge_bars(verdict, name, bars(texts, lines), full_scale)


def judge_dxf(verdict, file):
    drawing = ezdxf.readfile(file)
    name = f"{file.parent.name}/{file.name}"
    audit = drawing.audit()
    verdict.check(name, not audit.errors, "; ".join(error.message for error in audit.errors))
    space = drawing.modelspace()
    kinds = {entity.dxftype() for entity in space}
    verdict.check(name, bool(kinds & {"LINE", "POLYLINE", "ARC", "CIRCLE"}), "nothing is drawn")
    layers = {entity.dxf.layer for entity in space}
    missing = sorted(layer for layer in layers if layer not in drawing.layers)
    verdict.check(name, not missing, f"layers {missing} are used but not listed")
    box = bbox.extents((e for e in space if e.dxftype() != "TEXT"), fast=True)
    low, high = drawing.header["$EXTMIN"], drawing.header["$EXTMAX"]
    inside = box.has_data and all(
        low[axis] - EXACT <= box.extmin[axis] and box.extmax[axis] <= high[axis] + EXACT for axis in (0, 1)
    )
    verdict.check(name, inside, "lines lie outside the extents it states")
    texts = []
    for text in space.query("TEXT"):
        at = text.dxf.align_point if text.dxf.halign == 1 else text.dxf.insert
        texts.append((text.dxf.text.strip(), at[0], at[1]))
    lines = [((e.dxf.start[0], e.dxf.start[1]), (e.dxf.end[0], e.dxf.end[1])) for e in space.query("LINE")]
    judge_bars(verdict, name, bars(texts, lines), True)


def judge_stl(verdict, file):
    data = file.read_bytes()
    name = f"{file.parent.name}/{file.name}"
    count = struct.unpack_from("<I", data, 80)[0] if len(data) >= 84 else 0
    verdict.check(name, count >= 4, f"{count} triangles make no solid")
    verdict.check(name, len(data) == 84 + 50 * count, f"{len(data)} bytes do not hold {count} triangles")


def runs(cell):
    """Whether a spreadsheet would run a cell: it begins like a formula and is no plain number."""
    return cell[:1] in ("=", "+", "-", "@", "\t", "\r") and not re.fullmatch(r"[-+]?\d+(\.\d+)?", cell)


def judge_csv(verdict, file, plan):
    with file.open(encoding="utf-8-sig", newline="") as lines:
        rows = list(csv.reader(lines, strict=True))
    verdict.check(file.name, len(rows) > 1, "no parts are listed")
    uneven = [number for number, row in enumerate(rows, 1) if len(row) != len(rows[0])]
    verdict.check(file.name, not uneven, f"rows {uneven} have another count of cells than the head")
    # A spreadsheet would run these.
    formulas = [cell for row in rows for cell in row if runs(cell)]
    verdict.check(file.name, not formulas, f"cells that a spreadsheet would run: {formulas}")
    cells = {cell.strip() for row in rows for cell in row}
    # Parts alike share a row, their names divided by semicolons.
    named = {name.strip() for cell in cells for name in cell.split(";")}
    wanted = [name for part in plan.get("parts", []) for name in part.get("names", [part["name"]])]
    missing = [name for name in wanted if name not in named]
    verdict.check(file.name, not missing, f"parts of the plan that are not listed: {missing}")


def judge_calendar(verdict, file):
    data = file.read_bytes()
    lines = data.split(b"\r\n")
    verdict.check(file.name, b"\n" not in data.replace(b"\r\n", b""), "a line does not end in CR LF")
    # RFC 5545 section 3.1: at most 75 octets, the line end not counted.
    verdict.check(file.name, all(len(line) <= 75 for line in lines), "a line is longer than 75 octets")
    calendar = icalendar.Calendar.from_ical(data)
    tasks = [part for part in calendar.walk() if part.name in ("VEVENT", "VTODO")]
    verdict.check(file.name, bool(tasks), "no task is dated")
    ids = [str(task.get("UID", "")) for task in tasks]
    verdict.check(file.name, all(ids) and len(set(ids)) == len(ids), "tasks share an id or have none")
    for task in tasks:
        name = f"{file.name}, {task.get('SUMMARY', 'a task without a name')}"
        begin, end = task.get("DTSTART"), task.get("DTEND") or task.get("DUE")
        verdict.check(name, "SUMMARY" in task and begin is not None, "no name or no beginning")
        ordered = end is None or begin is None or str(begin.dt) <= str(end.dt)
        verdict.check(name, ordered, "it ends before it begins")


def judge_plan(verdict, file):
    plan = json.loads(file.read_text(encoding="utf-8"))
    parts = plan.get("parts", [])
    verdict.check(file.name, bool(parts), "it names no parts")
    for part in parts:
        well = bool(str(part.get("name", "")).strip()) and float(part.get("volume_mm3", 0)) > 0
        verdict.check(f"{file.name}, {part.get('name')}", well, "a part needs `name` and `volume_mm3` above zero")
    return plan


def judge(folder, verdict):
    """Judges one packet."""
    needed = ["packet.pdf", "parts.csv", "plan.json"]
    for name in needed:
        verdict.check(name, (folder / name).is_file(), f"not in {folder}")
    for pattern in ("drawings/*.svg", "templates/*.dxf", "stl/*.stl"):
        verdict.check(pattern, any(folder.glob(pattern)), f"none in {folder}")
    plan = {}
    if (folder / "plan.json").is_file():
        plan = verdict.attempt("plan.json", lambda: judge_plan(verdict, folder / "plan.json")) or {}
    judges = [
        ("packet.pdf", judge_pdf),
        ("drawings/*.svg", lambda v, f: judge_svg(v, f, False)),
        ("templates/*.svg", lambda v, f: judge_svg(v, f, True)),
        ("templates/*.dxf", judge_dxf),
        ("stl/*.stl", judge_stl),
        ("parts.csv", lambda v, f: judge_csv(v, f, plan)),
        ("timeline.ics", judge_calendar),
    ]
    for pattern, one in judges:
        for file in sorted(folder.glob(pattern)):
            verdict.attempt(str(file.relative_to(folder)), lambda one=one, file=file: one(verdict, file))


# --- the judge judged -------------------------------------------------------------------------------------


def sample_svg(scale):
    """A bar of 100 mm and one of 4 in, drawn at a scale that should be 1."""
    marks = ""
    for length, words, y in ((100.0, "100", 10.0), (101.6, "4", 20.0)):
        end = 5 + length * scale
        marks += f'<line x1="5" y1="{y}" x2="{end}" y2="{y}" stroke="#000"/>'
        marks += f'<text x="5" y="{y - 3}" text-anchor="middle">0</text>'
        marks += f'<text x="{end}" y="{y - 3}" text-anchor="middle">{words}</text>'
    head = '<svg xmlns="http://www.w3.org/2000/svg" width="120mm" height="30mm" viewBox="0 0 120 30">'
    return f"{head}<title>Bars</title>{marks}</svg>"


def sample_dxf(file, scale, right=120):
    drawing = ezdxf.new("R12")
    space = drawing.modelspace()
    for length, words, y in ((100.0, "100", 10.0), (101.6, "4", 0.0)):
        end = 5 + length * scale
        space.add_line((5, y), (end, y))
        for x, text in ((5, "0"), (end, words)):
            align = ezdxf.enums.TextEntityAlignment.CENTER
            space.add_text(text, height=2).set_placement((x, y + 3), align=align)
    save_with_extents(drawing, file, right)


def save_with_extents(drawing, file, right):
    """Saves with extents from 0 to `right`: ezdxf itself leaves them unset in release 12."""
    drawing.saveas(file)
    text = Path(file).read_text(encoding="cp1252").replace("-1e+20", f"{right}.0").replace("1e+20", "0.0")
    Path(file).write_text(text, encoding="cp1252")


def sample_pdf(width, height, words):
    """One tagged page with a title and a line of text, its font said to be embedded."""
    stream = f"BT /F1 12 Tf 72 72 Td ({words}) Tj ET".encode()
    objects = [
        b"<< /Type /Catalog /Pages 2 0 R /StructTreeRoot 6 0 R /MarkInfo << /Marked true >> >>",
        b"<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
        f"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 {width} {height}] /Contents 4 0 R "
        "/Resources << /Font << /F1 5 0 R >> >> >>".encode(),
        b"<< /Length %d >>\nstream\n%s\nendstream" % (len(stream), stream),
        b"<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica /FontDescriptor 7 0 R >>",
        b"<< /Type /StructTreeRoot >>",
        b"<< /Type /FontDescriptor /FontName /Helvetica /Flags 32 /FontFile 9 0 R >>",
        b"<< /Title (Sample) >>",
        b"<< /Length 0 >>\nstream\n\nendstream",
    ]
    out, places = b"%PDF-1.7\n", []
    for number, text in enumerate(objects, 1):
        places.append(len(out))
        out += b"%d 0 obj\n%s\nendobj\n" % (number, text)
    table = len(out)
    out += b"xref\n0 %d\n0000000000 65535 f \n" % (len(objects) + 1)
    out += b"".join(b"%010d 00000 n \n" % place for place in places)
    out += b"trailer << /Size %d /Root 1 0 R /Info 8 0 R >>\nstartxref\n%d\n%%%%EOF\n" % (len(objects) + 1, table)
    return out


CALENDAR = (
    "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//judge//EN\r\nBEGIN:VEVENT\r\nUID:1@judge\r\n"
    "DTSTAMP:20261125T080000Z\r\nDTSTART:20261125T080000\r\nDTEND:20261125T090000\r\nSUMMARY:Mill\r\n"
    "END:VEVENT\r\nEND:VCALENDAR\r\n"
)


def sample(folder):
    """A sound packet, as small as can be."""
    for name in ("drawings", "templates", "stl"):
        (folder / name).mkdir()
    (folder / "packet.pdf").write_bytes(sample_pdf(595.276, 841.89, "Front wall"))
    (folder / "drawings" / "box.svg").write_text(sample_svg(1), encoding="utf-8")
    sample_dxf(folder / "templates" / "wall.dxf", 1)
    (folder / "stl" / "wall.stl").write_bytes(bytes(80) + struct.pack("<I", 4) + bytes(200))
    (folder / "parts.csv").write_text("part,length\nFront wall,100\n", encoding="utf-8")
    (folder / "timeline.ics").write_bytes(CALENDAR.encode())
    plan = {"parts": [{"name": "Front wall", "volume_mm3": 1.0}]}
    (folder / "plan.json").write_text(json.dumps(plan), encoding="utf-8")


def self_test(verdict):
    """The sound packet is passed; each fault is found, and named."""
    svg = lambda text: lambda f: (f / "drawings" / "box.svg").write_text(text, encoding="utf-8")
    dxf = lambda scale: lambda f: sample_dxf(f / "templates" / "wall.dxf", scale)
    pdf = lambda *given: lambda f: (f / "packet.pdf").write_bytes(sample_pdf(*given))
    table = lambda text: lambda f: (f / "parts.csv").write_text(text, encoding="utf-8")
    dates = lambda old, new: lambda f: (f / "timeline.ics").write_bytes(CALENDAR.replace(old, new).encode())
    cases = [
        ("a sound packet", lambda f: None, None),
        ("bars of a template 1 % short", dxf(0.99), "bar measures 99.0000"),
        ("bars of a drawing 1 % short", svg(sample_svg(0.99)), "bar measures 99.0000"),
        ("a template larger than it says", lambda f: sample_dxf(f / "templates" / "wall.dxf", 1, 50), "outside the extents"),
        ("a template without bars", lambda f: sample_no_bar(f / "templates" / "wall.dxf"), "no check bar"),
        ("a drawing of other scale", svg(sample_svg(1).replace('width="120mm"', 'width="100mm"')), "is not 1 mm"),
        ("a drawing in pixels", svg(sample_svg(1).replace('width="120mm"', 'width="120"')), "not in mm"),
        ("a script in a drawing", svg(sample_svg(1).replace("</svg>", "<script/></svg>")), "it holds"),
        ("a broken drawing", svg("<svg"), "ParseError"),
        ("an unknown paper", pdf(500, 500, "x"), "no known paper"),
        ("an empty page", pdf(595.276, 841.89, ""), "no text can be read"),
        ("a font not embedded", bare_font, "are not embedded"),
        ("no PDF at all", lambda f: (f / "packet.pdf").write_bytes(b"%PDF-1.7"), "packet.pdf"),
        ("a formula", table("part,length\n=1+1,1\nFront wall,1\n"), "a spreadsheet would run"),
        ("a formula behind a sign", table("part,length\n-1+cmd,1\nFront wall,1\n"), "a spreadsheet would run"),
        ("a negative number", table("part,length\nFront wall,-1.5\n"), None),
        ("a ragged table", table("part,length\nFront wall\n"), "another count of cells"),
        ("a part not listed", table("part,length\nLid,1\n"), "not listed"),
        ("a task that ends first", dates("DTEND:20261125T090000", "DTEND:20261125T070000"), "ends before"),
        ("a long line", dates("SUMMARY:Mill", "SUMMARY:" + "x" * 80), "longer than 75"),
        ("no carriage returns", dates("\r\n", "\n"), "CR LF"),
        ("a short mesh file", lambda f: (f / "stl" / "wall.stl").write_bytes(bytes(80) + b"\4\0\0\0"), "do not hold"),
        ("no drawings", lambda f: (f / "drawings" / "box.svg").unlink(), "none in"),
        ("a part without volume", lambda f: (f / "plan.json").write_text('{"parts":[{"name":"Front wall"}]}'), "above zero"),
    ]
    for name, change, says in cases:
        with tempfile.TemporaryDirectory() as place:
            folder = Path(place)
            sample(folder)
            change(folder)
            inner = Verdict(quiet=True)
            judge(folder, inner)
        failures = inner.failures
        well = not failures if says is None else any(says in failure for failure in failures)
        verdict.check(f"self-test: {name}", well, f"wanted {says!r}, got {failures}")


def bare_font(folder):
    """Renames the key that embeds the font, so that all places in the file stay as they are."""
    file = folder / "packet.pdf"
    file.write_bytes(file.read_bytes().replace(b"/FontFile ", b"/FontNone "))


def sample_no_bar(file):
    drawing = ezdxf.new("R12")
    drawing.modelspace().add_line((0, 0), (50, 0))
    save_with_extents(drawing, file, 120)


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("packet", type=Path, nargs="?", help="folder of a packet")
    parser.add_argument("--self-test", action="store_true", help="judge the judge")
    asked = parser.parse_args()
    # Release 12 has no unit; ezdxf says so for every file it writes.
    logging.getLogger("ezdxf").setLevel(logging.ERROR)
    verdict = Verdict()
    if asked.self_test:
        self_test(verdict)
    elif asked.packet:
        judge(asked.packet, verdict)
    else:
        parser.error("give the folder of a packet, or --self-test")
    verdict.close()


if __name__ == "__main__":
    main()
