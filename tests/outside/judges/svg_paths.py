"""Reads an SVG with Python's XML parser and prints its paths in mm, y up, by layer, and its titles. Knows M L C Z only, and says so."""
import json
import re
import sys
import xml.etree.ElementTree as tree

NS = "{http://www.w3.org/2000/svg}"


def millimetres(text):
    number, unit = re.fullmatch(r"([\d.]+)(\w*)", text).groups()
    return float(number) * {"mm": 1.0, "cm": 10.0, "in": 25.4, "": 25.4 / 96}[unit]


def cubic(p, a, b, q, count=400):
    for k in range(1, count + 1):
        t = k / count
        s = 1 - t
        yield tuple(s**3 * p[i] + 3 * s * s * t * a[i] + 3 * s * t * t * b[i] + t**3 * q[i] for i in (0, 1))


def read_path(data):
    tokens = re.findall(r"[A-Za-z]|[-+]?\d*\.?\d+(?:[eE][-+]?\d+)?", data)
    points, closed, k, command = [], False, 0, None
    def pair(i):
        return float(tokens[i]), float(tokens[i + 1])
    while k < len(tokens):
        if tokens[k].isalpha():
            command = tokens[k]
            k += 1
        if command == "M" or command == "L":
            points.append(pair(k))
            k += 2
        elif command == "C":
            points.extend(cubic(points[-1], pair(k), pair(k + 2), pair(k + 4)))
            k += 6
        elif command == "Z":
            closed = True
            if points[0] != points[-1]:
                points.append(points[0])
        else:
            raise SystemExit("unknown path command " + str(command))
    return points, closed


root = tree.parse(sys.argv[1]).getroot()
_, _, box_width, box_height = (float(x) for x in root.get("viewBox").split())
width, height = millimetres(root.get("width")), millimetres(root.get("height"))
sx, sy = width / box_width, height / box_height
paths, titles = [], []
for group in root.findall(NS + "g"):
    for node in group.iter():
        assert node.get("transform") is None
        if node.tag == NS + "title":
            titles.append(node.text)
        if node.tag == NS + "path":
            points, closed = read_path(node.get("d"))
            flipped = [(x * sx, height - y * sy) for x, y in points]
            paths.append({"layer": group.get("id"), "part": node.get("data-part"), "closed": closed, "points": flipped})
print(json.dumps({"widthMm": width, "heightMm": height, "layers": [g.get("id") for g in root.findall(NS + "g")], "paths": paths, "titles": titles}))
