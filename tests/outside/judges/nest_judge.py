"""Judges strip layouts by shapely: largest overlap of two items and largest excess over the strip, as lengths (area over perimeter).

Usage: nest_judge.py INSTANCE.json RUN.json; RUN as `bench -- nest` prints one run. Prints one JSON value.
"""
import json
import sys

from shapely.affinity import rotate, scale, translate
from shapely.geometry import Polygon, box

instance = json.load(open(sys.argv[1]))
run = json.load(open(sys.argv[2]))
items = {item["id"]: Polygon(item["shape"]["data"]) for item in instance["items"]}
height = instance["strip_height"]
placed = []
for placement in run["placements"]:
    shape = items[placement["item"]]
    if placement["mirrored"]:
        shape = scale(shape, -1, 1, origin=(0, 0))
    shape = rotate(shape, placement["angle"], origin=(0, 0))
    placed.append(translate(shape, placement["x"], placement["y"]))
strip = box(0, 0, run["stripLength"], height)
worst = 0.0
for i, a in enumerate(placed):
    for b in placed[i + 1 :]:
        if a.intersects(b):
            common = a.intersection(b)
            if common.area > 0:
                worst = max(worst, common.area / common.length)
excess = 0.0
for a in placed:
    low_x, low_y, high_x, high_y = a.bounds
    excess = max(excess, -low_x, -low_y, high_x - run["stripLength"], high_y - height)
counts = {}
for placement in run["placements"]:
    counts[placement["item"]] = counts.get(placement["item"], 0) + 1
complete = all(counts.get(item["id"], 0) == item["demand"] for item in instance["items"])
density = sum(shape.area for shape in placed) / strip.area
print(json.dumps({"overlap": worst / height, "excess": excess / height, "complete": complete, "density": density}))
