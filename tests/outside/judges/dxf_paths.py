"""Reads a DXF with ezdxf, audits it, and prints its outlines (flattened by ezdxf to 0.2 µm), texts, layers, blocks and unit."""
import json
import sys

import ezdxf
from ezdxf.lldxf.encoding import decode_dxf_unicode

doc = ezdxf.readfile(sys.argv[1])
auditor = doc.audit()


def part_of(entity):
    if not entity.has_xdata("PLASTRON"):
        return None
    return next(value for code, value in entity.get_xdata("PLASTRON") if code == 1000)


def read(container):
    paths, texts, points = [], [], []
    for entity in container:
        kind = entity.dxftype()
        found = {"type": kind, "layer": entity.dxf.layer, "part": part_of(entity)}
        if kind == "POLYLINE":
            corners = [(v.dxf.location.x, v.dxf.location.y) for v in entity.vertices]
            paths.append({**found, "closed": entity.is_closed, "points": corners})
        elif kind == "LWPOLYLINE":
            paths.append({**found, "closed": entity.closed, "points": [(x, y) for x, y, *_ in entity.get_points()]})
        elif kind == "SPLINE":
            paths.append({**found, "closed": entity.closed, "points": [(p.x, p.y) for p in entity.flattening(0.0002, 16)]})
        elif kind == "LINE":
            ends = [(entity.dxf.start.x, entity.dxf.start.y), (entity.dxf.end.x, entity.dxf.end.y)]
            paths.append({**found, "closed": False, "points": ends})
        elif kind == "TEXT":
            texts.append({**found, "text": decode_dxf_unicode(entity.dxf.text), "at": [entity.dxf.insert.x, entity.dxf.insert.y], "height": entity.dxf.height, "rotation": entity.dxf.rotation})
        elif kind == "POINT":
            points.append({**found, "at": [entity.dxf.location.x, entity.dxf.location.y], "thickness": entity.dxf.get("thickness", 0)})
        elif kind == "INSERT":
            points.append({**found, "name": entity.dxf.name, "at": [entity.dxf.insert.x, entity.dxf.insert.y]})
        else:
            raise SystemExit("unexpected entity " + kind)
        if paths and paths[-1]["closed"] and paths[-1]["points"][0] != paths[-1]["points"][-1]:
            paths[-1]["points"].append(paths[-1]["points"][0])
    return {"paths": paths, "texts": texts, "points": points}


print(json.dumps({
    "version": doc.dxfversion,
    "errors": [e.message for e in auditor.errors],
    "fixes": [f.message for f in auditor.fixes],
    "units": doc.header.get("$INSUNITS", None),
    "layers": sorted(layer.dxf.name for layer in doc.layers),
    **read(doc.modelspace()),
    "blocks": {block.name: read(block) for block in doc.blocks if not block.name.startswith(("*", "$", "_"))},
}))
