"""Run by klayout: a check of whole cells of written zones, however many vertices they have, polygon by polygon, unmerged; variables `file`, `cells`
(names, by commas) and `out`. By cell: polygons, the most vertices of one, polygons that stand there twice, and places where polygons cross
or overlap themselves.
"""

import json

import pya

layout = pya.Layout()
layout.read(file)
zones = layout.find_layer(1, 0)
result = {}
for name in cells.split(","):
    shapes = layout.cell(name).shapes(zones)
    raw = pya.Region(shapes)
    raw.merged_semantics = False
    result[name] = {
        "polygons": raw.count(),
        "most": max(shape.polygon.num_points() for shape in shapes.each()),
        "twice": raw.count() - len({shape.polygon.hash() for shape in shapes.each()}),
        "strange": raw.strange_polygon_check().count(),
    }
with open(out, "w") as target:
    json.dump(result, target)
