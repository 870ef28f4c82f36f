# tests/tools/drawings/read_dxf.py — a DXF file as an independent library reads it, as JSON.
# SPDX-License-Identifier: GPL-3.0-or-later
"""usage: read_dxf.py FILE: errors of the audit, units, and for every closed entity its layer, area,
vertices and the radius and centre of every arc."""
import json
import math
import sys

import ezdxf
from ezdxf.math import bulge_to_arc


def polyline(entity):
    vertices = [(v.dxf.location.x, v.dxf.location.y, v.dxf.bulge) for v in entity.vertices]
    area, arcs = 0.0, []
    for (x0, y0, bulge), (x1, y1, _) in zip(vertices, vertices[1:] + vertices[:1]):
        area += (x0 * y1 - x1 * y0) / 2
        if not bulge:
            continue
        centre, start, end, radius = bulge_to_arc((x0, y0), (x1, y1), bulge)
        sweep = (end - start) % (2 * math.pi)
        area += math.copysign(radius**2 * (sweep - math.sin(sweep)) / 2, bulge)
        arcs.append({"radius": radius, "centre": [centre.x, centre.y]})
    return {"area": area, "arcs": arcs, "closed": entity.is_closed,
            "vertices": [v[:2] for v in vertices]}


def circle(entity):
    centre, radius = entity.dxf.center, entity.dxf.radius
    return {"area": math.pi * radius**2, "arcs": [{"radius": radius, "centre": [centre.x, centre.y]}],
            "closed": True, "vertices": []}


drawing = ezdxf.readfile(sys.argv[1])
audit = drawing.audit()
outlines = []
for entity in drawing.modelspace():
    kinds = {"POLYLINE": polyline, "CIRCLE": circle}
    if entity.dxftype() in kinds:
        outlines.append({"layer": entity.dxf.layer, **kinds[entity.dxftype()](entity)})
json.dump({"errors": len(audit.errors), "fixes": len(audit.fixes), "units": drawing.units,
           "layers": sorted(layer.dxf.name for layer in drawing.layers), "outlines": outlines},
          sys.stdout)
