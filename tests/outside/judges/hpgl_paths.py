"""Reads HPGL (IN SP PU PD, absolute) and prints its strokes in mm by pen, in order, and the range of its coordinates."""
import json
import re
import sys

text = open(sys.argv[1], encoding="ascii").read()
pen, at, strokes, numbers = 0, (0.0, 0.0), [], []
open_stroke = None
for command in text.split(";"):
    command = command.strip()
    if not command:
        continue
    name, words = command[:2], [int(n) for n in re.findall(r"-?\d+", command[2:])]
    numbers += words if name in ("PU", "PD") else []
    points = [(words[k] * 0.025, words[k + 1] * 0.025) for k in range(0, len(words) - 1, 2)]
    if name == "SP":
        pen = words[0]
    elif name == "PU":
        open_stroke = None
        if points:
            at = points[-1]
    elif name == "PD":
        if open_stroke is None:
            open_stroke = {"pen": pen, "points": [at]}
            strokes.append(open_stroke)
        open_stroke["points"] += points
        at = open_stroke["points"][-1]
    elif name != "IN":
        raise SystemExit("unexpected command " + command)
print(json.dumps({"strokes": strokes, "least": min(numbers), "largest": max(numbers)}))
