"""Measures drawings with readers of their own, and makes those they are read from.

Run by hand after the writers change; the tests read its tables only.
    pip install ezdxf==1.4.5 svgpathtools==1.8.0 shapely==2.2.0 scipy==1.17.1
    python3 measure.py
"""
import json
import xml.etree.ElementTree as ET

import ezdxf
import numpy as np
import svgpathtools
from scipy.interpolate import BSpline
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


def copies():
    """Linked copies drawn out by hand: svgpathtools knows none. Which transforms lie on
    which path is written here once more, apart from the file."""
    from svgpathtools.parser import parse_transform
    from svgpathtools.path import transform

    tree = ET.parse("copies.svg").getroot()
    by_id = {e.get("id"): e for e in tree.iter() if e.get("id")}
    table = {}
    for name, of, moves in [
        ("plain", "leaf", "translate(60 20)"),
        ("old-link", "leaf", "translate(140 20)"),
        ("turned", "leaf", "translate(250 40) rotate(40) scale(1.5 0.5) translate(5 -3)"),
        ("of-a-group / pair / one", "one", "translate(20 120) scale(2)"),
        ("of-a-group / pair / two", "leaf", "translate(20 120) scale(2) translate(40 0)"),
        ("of-a-copy / two / leaf", "leaf", "translate(200 130) translate(40 0)"),
        ("of-a-symbol", "sign", "translate(280 120) scale(2) translate(-5 -5)"),
    ]:
        path = transform(svgpathtools.parse_path(by_id[of].get("d") or by_id[of][0].get("d")), parse_transform(moves))
        x0, x1, y0, y1 = path.bbox()
        table[name] = {**measured(path), "box": [round(v, 4) for v in (x0, y0, x1, y1)]}
    return table


def curves():
    """Splines, ellipses, arcs and polylines of several kinds, each closed, measured by
    ezdxf's own flattening to a hundred thousandth of a millimetre."""
    import math

    doc = ezdxf.new("R2010")
    doc.units = ezdxf.units.MM
    space = doc.modelspace()
    ring = [(0, 0), (60, -20), (120, 10), (130, 80), (70, 120), (-10, 70)]

    def closed(points, degree):
        return points + points[:degree]

    uniform = lambda count, degree: list(range(count + degree + 1))
    for degree in (1, 2, 3):
        points = closed(ring, degree)
        spline = space.add_spline(dxfattribs={"layer": f"uniform {degree}"})
        spline.dxf.degree = degree
        spline.control_points = points
        spline.knots = uniform(len(points), degree)
    # Knots that stand twice and three times, ends where it begins.
    points = [(0, 0), (20, -40), (90, -30), (100, 0), (140, 40), (100, 90), (40, 90), (0, 60), (0, 0)]
    spline = space.add_spline(dxfattribs={"layer": "knots twice"})
    spline.dxf.degree = 3
    spline.control_points = points
    spline.knots = [0, 0, 0, 0, 1, 1, 2.5, 2.5, 2.5, 4, 4, 4, 4]
    # A circle as a weighted spline of degree 2: the usual nine points.
    r, w = 80.0, math.sqrt(0.5)
    points = [(r, 0), (r, r), (0, r), (-r, r), (-r, 0), (-r, -r), (0, -r), (r, -r), (r, 0)]
    spline = space.add_spline(dxfattribs={"layer": "weighted"})
    spline.dxf.degree = 2
    spline.control_points = points
    spline.knots = [0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 4]
    spline.weights = [1, w, 1, w, 1, w, 1, w, 1]
    points = [(0, 0), (30, -60), (90, -20), (160, 30), (120, 140), (20, 110), (-40, 60), (0, 0)]
    spline = space.add_spline(dxfattribs={"layer": "degree 5"})
    spline.dxf.degree = 5
    spline.control_points = points
    spline.knots = [0] * 6 + [1, 2] + [3] * 6
    spline = space.add_spline(dxfattribs={"layer": "weighted 3"})
    spline.dxf.degree = 3
    spline.control_points = points
    spline.knots = [0] * 4 + [1, 2, 3, 3.5] + [5] * 4
    spline.weights = [1, 3, 0.5, 2, 1, 1, 4, 1]
    space.add_ellipse((50, 60), (90, 30), 0.4, dxfattribs={"layer": "ellipse"})
    # A part of one, closed by its chord; and one seen from behind.
    for layer, extrusion in [("part", (0, 0, 1)), ("part behind", (0, 0, -1))]:
        ellipse = space.add_ellipse((50, 60), (90, 30), 0.4, 0.4, 3.9, dxfattribs={"layer": layer, "extrusion": extrusion})
        space.add_line(ellipse.end_point, ellipse.start_point, dxfattribs={"layer": layer})
    for layer, extrusion in [("arc", (0, 0, 1)), ("arc behind", (0, 0, -1))]:
        arc = space.add_arc((40, 30), 70, 200, 75, dxfattribs={"layer": layer, "extrusion": extrusion})
        space.add_line(arc.end_point, arc.start_point, dxfattribs={"layer": layer})
    bulges = [(0, 0, 0.3), (100, 10, -0.2), (120, 90, 1.0), (20, 80, 0)]
    space.add_lwpolyline(bulges, format="xyb", close=True, dxfattribs={"layer": "lwpolyline"})
    space.add_polyline2d(bulges, format="xyb", close=True, dxfattribs={"layer": "polyline"})
    behind = space.add_lwpolyline(bulges, format="xyb", close=True, dxfattribs={"layer": "lwpolyline behind"})
    behind.dxf.extrusion = (0, 0, -1)
    space.add_circle((33, 44), 55, dxfattribs={"layer": "circle"})
    # Such as are left out: their lines in the file are named.
    spline = space.add_spline(fit_points=[(0, 0), (10, 30), (50, 20)], dxfattribs={"layer": "through points"})
    for key in ["$TDCREATE", "$TDUPDATE", "$TDUCREATE", "$TDUUPDATE"]:
        doc.header[key] = 0.0
    for key in ["$VERSIONGUID", "$FINGERPRINTGUID"]:
        doc.header[key] = "{00000000-0000-0000-0000-000000000000}"
    doc.saveas("curves.dxf")

    from ezdxf import path as paths
    table = {}
    layers = {}
    for entity in doc.modelspace():
        layers.setdefault(entity.dxf.layer, []).append(entity)
    for layer, entities in layers.items():
        if layer == "through points":
            continue
        points = []
        for entity in entities:
            if entity.dxftype() == "SPLINE" and layer.startswith("uniform"):
                # Where knots are not clamped the curve lies between the knots of its degree
                # from either end; ezdxf 1.4.5 goes on beyond them. By scipy.
                tool = BSpline(entity.knots, np.array(entity.control_points), entity.dxf.degree)
                n, k = len(entity.control_points), entity.dxf.degree
                part = [ezdxf.math.Vec3(p) for p in tool(np.linspace(entity.knots[k], entity.knots[n], 48001))]
            elif entity.dxftype() == "SPLINE":
                part = list(entity.flattening(1e-5, segments=64))
            elif entity.dxftype() in ("ELLIPSE", "ARC", "CIRCLE"):
                part = list(entity.flattening(1e-5))
            elif entity.dxftype() == "LINE":
                part = [entity.dxf.start, entity.dxf.end]
            else:
                part = [v for p in entity.virtual_entities()
                        for v in ordered(list(p.flattening(1e-5)) if p.dxftype() == "ARC" else [p.dxf.start, p.dxf.end])]
            if points and np.hypot(part[0].x - points[-1].x, part[0].y - points[-1].y) > 1e-3:
                part.reverse()
            points += part
        points = joined(points)
        length = sum(np.hypot(b[0] - a[0], b[1] - a[1]) for a, b in zip(points, points[1:] + points[:1]))
        xs, ys = [p[0] for p in points], [p[1] for p in points]
        # A line may cross itself: the area as its turning counts it.
        area = sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(points, points[1:] + points[:1])) / 2
        table[layer] = {
            "area": round(abs(area), 3), "length": round(float(length), 3),
            "box": [round(v, 4) for v in (min(xs), -max(ys), max(xs), -min(ys))],
        }
    return table


def ordered(points):
    """Parts of a polyline as they come; `joined` turns what runs backwards."""
    return [("part", points)]


def joined(points):
    line = []
    for p in points:
        if isinstance(p, tuple) and len(p) == 2 and p[0] == "part":
            part = [(v.x, v.y) for v in p[1]]
            if line and np.hypot(part[0][0] - line[-1][0], part[0][1] - line[-1][1]) > 1e-3:
                part.reverse()
            line += part
        else:
            line.append((p.x, p.y))
    return line


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
    tables = {
        "shapes": shapes(),
        "copies": copies(),
        "apparel": apparel(),
        "curves": curves(),
        "written": written(),
    }
    with open("measured.json", "w") as out:
        json.dump(tables, out, indent=1)
        out.write("\n")
