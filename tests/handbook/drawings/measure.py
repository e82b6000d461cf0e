"""Measures drawings with readers of their own, and makes those they are read from.

Run by hand after the writers change; the tests read its tables only.
    pip install ezdxf==1.4.5 svgpathtools==1.8.0 shapely==2.2.0
    python3 measure.py
"""
import json
import xml.etree.ElementTree as ET

import ezdxf
import numpy as np
import svgpathtools
from shapely.geometry import Polygon

SVG = "{http://www.w3.org/2000/svg}"


def measured(path):
    """Area and length of an svgpathtools path, by sampling each part finely."""
    points = []
    for part in path:
        n = 1 if isinstance(part, svgpathtools.Line) else 4000
        points += [part.point(t / n) for t in range(n)]
    area = Polygon([(p.real, p.imag) for p in points]).area
    return {"area": round(area, 4), "length": round(path.length(error=1e-9), 4)}


def shapes():
    """The hand-written drawing; svgpathtools does not know drawings inside of drawings."""
    document = svgpathtools.Document("shapes.svg")
    table = {}
    for path in document.paths():
        name = path.element.get("id")
        if name in (None, "open", "in-another"):
            continue
        table[name] = measured(path)
    # 100 by 60 for 50 by 30: twice as large.
    table["in-another"] = {"area": 60.0 * 40.0, "length": 200.0}
    return table


def apparel():
    """Two files for apparel: in millimetres, and in inches with the grain across."""
    table = {}
    for name, units, scale in [("metric", "METRIC", 1.0), ("english", "ENGLISH", 1 / 25.4)]:
        doc = ezdxf.new("R12")
        space = doc.modelspace()
        space.add_text("Units: " + units, dxfattribs={"layer": "1"})
        block = doc.blocks.new("P1")
        # A straight hem, a round top by bulges, sides.
        cut = [(0, 0, 0), (300, 0, 0), (280, 400, 0.4), (20, 400, 0)]
        sew = [(10, 20, 0), (290, 20, 0), (270.5, 390, 0.4), (29.5, 390, 0)]
        turned = (lambda x, y: (x * scale, y * scale)) if units == "METRIC" else (lambda x, y: (y * scale, -x * scale))
        for layer, line in [("1", cut), ("14", sew)]:
            poly = block.add_polyline2d([turned(x, y) for x, y, _ in line], close=True, dxfattribs={"layer": layer})
            for vertex, (_, _, bulge) in zip(poly.vertices, line):
                vertex.dxf.bulge = bulge
        a, b = turned(150, 80), turned(150, 320)
        block.add_line(a, b, dxfattribs={"layer": "7"})
        block.add_point(turned(150, 0), dxfattribs={"layer": "4"})
        block.add_point(turned(100, 200), dxfattribs={"layer": "13"})
        block.add_line(turned(60, 100), turned(240, 100), dxfattribs={"layer": "8"})
        for text in ["Piece Name: Front", "Quantity: 1,1", "Size: 38"]:
            block.add_text(text, dxfattribs={"layer": "1"})
        space.add_blockref("P1", (0, 0), dxfattribs={"layer": "1"})
        # The same pieces without a date or a random number.
        for key, value in [("$TDCREATE", 0.0), ("$TDUPDATE", 0.0)]:
            if key in doc.header:
                doc.header[key] = value
        doc.saveas(name + ".dxf")
        for layer in ["1", "14"]:
            poly = [e for e in block if e.dxftype() == "POLYLINE" and e.dxf.layer == layer][0]
            table[name + " " + layer] = dxf_measured(poly, 1 / scale)
    return table


def dxf_measured(entity, scale):
    """By ezdxf's own lines and arcs of a polyline, the arcs sampled finely."""
    points = []
    for part in entity.virtual_entities():
        if part.dxftype() == "ARC":
            tool = part.construction_tool()
            arc = list(tool.vertices(np.linspace(tool.start_angle, tool.start_angle + (tool.end_angle - tool.start_angle) % 360, 20000)))
        else:
            arc = [part.dxf.start, part.dxf.end]
        # An arc runs one way alone: turn it to go on from where the line is.
        if points and np.hypot(arc[0].x - points[-1].x, arc[0].y - points[-1].y) > 1e-6:
            arc.reverse()
        points += arc
    points = [(p.x * scale, p.y * scale) for p in points]
    length = sum(np.hypot(b[0] - a[0], b[1] - a[1]) for a, b in zip(points, points[1:]))
    return {"area": round(Polygon(points).area, 3), "length": round(float(length), 3)}


def written():
    """What this program wrote."""
    table = {}
    size = ET.parse("written.svg").getroot()
    assert size.get("width").endswith("mm")
    for path in svgpathtools.Document("written.svg").paths():
        name = path.element.get("id") or ""
        if name.startswith(("cut-line", "stitching-line")):
            table["svg " + name] = measured(path)
        elif name.startswith(("grainline", "inside", "notches")):
            table["svg " + name] = {"area": 0.0, "length": round(path.length(error=1e-9), 4)}
    doc = ezdxf.readfile("written.dxf")
    audit = doc.audit()
    assert not audit.errors, audit.errors
    for block in doc.blocks:
        if not block.name.startswith("PIECE"):
            continue
        texts = [e.dxf.text for e in block if e.dxftype() == "TEXT"]
        counts = {}
        for entity in block:
            counts[entity.dxf.layer] = counts.get(entity.dxf.layer, 0) + 1
            if entity.dxftype() == "POLYLINE" and entity.dxf.layer in ("1", "14"):
                assert entity.is_closed
                table[f"dxf {block.name} {entity.dxf.layer}"] = dxf_measured(entity, 1.0)
        table[f"dxf {block.name} texts"] = texts
        table[f"dxf {block.name} notches"] = counts.get("4", 0)
    table["dxf units"] = [e.dxf.text for e in doc.modelspace() if e.dxftype() == "TEXT" and e.dxf.text.startswith("Units")]
    return table


if __name__ == "__main__":
    tables = {"shapes": shapes(), "apparel": apparel(), "written": written()}
    with open("measured.json", "w") as out:
        json.dump(tables, out, indent=1)
        out.write("\n")
