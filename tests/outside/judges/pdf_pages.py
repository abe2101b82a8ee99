"""
Reads pages of a PDF with `mutool trace` and prints their stroked paths in millimetres from the lower left of the page, clipped to the innermost
clip rectangle, by layer; and page sizes. Cubics become 256 pieces. Usage: pdf_pages.py FILE
"""
import json
import re
import subprocess
import sys
import xml.etree.ElementTree as tree

MM = 25.4 / 72
path_file = sys.argv[1]
pages = int(re.search(r"Pages:\s+(\d+)", subprocess.run(["pdfinfo", path_file], capture_output=True, text=True).stdout).group(1))


def matrix_of(node):
    return [float(x) for x in node.get("transform", "1 0 0 1 0 0").split()]


def points_of(node, m, height):
    def place(x, y):
        return ((m[0] * x + m[2] * y + m[4]) * MM, height - (m[1] * x + m[3] * y + m[5]) * MM)
    lines, current, start = [], None, None
    for step in node.iter():
        g = lambda name: float(step.get(name))
        if step.tag == "moveto":
            current = [place(g("x"), g("y"))]
            start, raw = current[0], (g("x"), g("y"))
            lines.append({"points": current, "closed": False})
        elif step.tag == "lineto":
            raw = (g("x"), g("y"))
            current.append(place(*raw))
        elif step.tag == "curveto":
            p, a, b, q = raw, (g("x1"), g("y1")), (g("x2"), g("y2")), (g("x3"), g("y3"))
            for k in range(1, 257):
                t, s = k / 256, 1 - k / 256
                current.append(place(*(s**3 * p[i] + 3 * s * s * t * a[i] + 3 * s * t * t * b[i] + t**3 * q[i] for i in (0, 1))))
            raw = q
        elif step.tag == "closepath":
            lines[-1]["closed"] = True
            if current[0] != current[-1]:
                current.append(start)
    return lines


out = []
for number in range(1, pages + 1):
    text = subprocess.run(["mutool", "trace", path_file, str(number)], capture_output=True, text=True).stdout
    root = tree.fromstring(text)
    page = root.find("page") if root.tag != "page" else root
    box = [float(x) for x in page.get("mediabox").split()]
    height = (box[3] - box[1]) * MM
    found, clips, layers = [], [], []
    def walk(node):
        for child in node:
            if child.tag in ("clip_path",):
                xs = [p for line in points_of(child, matrix_of(child), height) for p in line["points"]]
                clips.append([min(x for x, _ in xs), min(y for _, y in xs), max(x for x, _ in xs), max(y for _, y in xs)])
            elif child.tag == "pop_clip":
                if clips:
                    clips.pop()
            elif child.tag in ("begin_layer", "layer"):
                layers.append(child.get("name"))
                if len(child):
                    walk(child)
                    layers.pop()
            elif child.tag == "end_layer":
                layers.pop()
            elif child.tag == "stroke_path":
                clip = None
                for c in clips:
                    clip = c if clip is None else [max(clip[0], c[0]), max(clip[1], c[1]), min(clip[2], c[2]), min(clip[3], c[3])]
                for line in points_of(child, matrix_of(child), height):
                    found.append({"layer": layers[-1] if layers else "", "part": None, "clip": clip, **line})
            else:
                walk(child)
    walk(page)
    out.append({"widthMm": (box[2] - box[0]) * MM, "heightMm": height, "paths": found})
print(json.dumps({"pages": out}))
