"""Judges one sheet by shapely: least distance between parts, whether all lie inside, and their areas.

Usage: sheet_judge.py FILE.json with width, height and rings (per part: outline, holes). Prints one JSON value.
"""
import json
import sys

from shapely.geometry import Polygon, box

sheet = json.load(open(sys.argv[1]))
parts = [Polygon(rings[0], rings[1:]) for rings in sheet["rings"]]
least = min((a.distance(b) for i, a in enumerate(parts) for b in parts[i + 1 :]), default=1e9)
frame = box(0, 0, sheet["width"], sheet["height"])
print(json.dumps({"least": least, "inside": all(frame.contains(part) for part in parts), "areas": [part.area for part in parts]}))
