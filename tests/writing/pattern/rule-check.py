"""Run by klayout: an independent rule check of a pattern file, as JSON; variables `file`, `least` (width and space, database units) and `out`.

By cell, of the written zones (1/0), or of the marks (2/0), which no edge of a pattern cuts: the most vertices of a polygon, polygons that stand there twice, polygons that cross or overlap themselves,
the area that two polygons cover, and the area that they would once every polygon is sized outward by SIZING; lines narrower and spaces
narrower than `least` of the merged zones, in the interior: farther than MARGIN from the edge of the pattern, which cuts lines off as it will.
"""

import json

import pya

SIZING = 20
MARGIN = 5

layout = pya.Layout()
layout.read(file)
width = int(least)
written = layout.find_layer(1, 0)
outline = layout.find_layer(11, 0)
marks = layout.find_layer(2, 0)
result = {}
for cell in layout.each_cell():
    is_marks = marks is not None and not cell.shapes(marks).is_empty()
    if cell.shapes(written).is_empty() and not is_marks:
        continue
    raw = pya.Region(cell.shapes(marks if is_marks else written))
    raw.merged_semantics = False
    polygons = [polygon for polygon in raw.each()]
    whole = raw.merged()
    inner = pya.Region(cell.shapes(outline)).merged().sized(-MARGIN * width)

    def interior(pairs):
        return pairs.count() if is_marks else (pairs.polygons(1) & inner).count()

    sized = pya.Region([polygon.sized(SIZING, SIZING, 2) for polygon in polygons])
    sized.merged_semantics = False
    result[cell.name] = {
        "polygons": len(polygons),
        "most": max(polygon.num_points() for polygon in polygons),
        "twice": len(polygons) - len({polygon.hash() for polygon in polygons}),
        "strange": raw.strange_polygon_check().count(),
        "overlapping": raw.merged(False, 2).area(),
        "sizedOverlap": sized.merged(False, 2).area(),
        "narrow": interior(whole.width_check(width)),
        "close": interior(whole.space_check(width)),
    }
with open(out, "w") as target:
    json.dump(result, target)
