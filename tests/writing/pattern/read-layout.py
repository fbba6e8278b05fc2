"""Run by klayout: what it finds in layout files, as JSON; variables `files` (separated by |) and `out`.

For each file: database unit, top cells, and for each cell and layer the polygons, their vertices, area and box, in database
units, and the area that two or more written zones cover; of the first two files the count of polygons that their XOR leaves.
"""

import json

import pya


def facts(layout):
    cells = {}
    for cell in layout.each_cell():
        for index in layout.layer_indexes():
            polygons = [shape.polygon for shape in cell.shapes(index).each() if not shape.is_text()]
            if not polygons:
                continue
            box = cell.bbox_per_layer(index) if hasattr(cell, "bbox_per_layer") else cell.bbox(index)
            cells[cell.name + " " + layout.get_info(index).to_s()] = {
                "polygons": len(polygons),
                "vertices": sum(polygon.num_points() for polygon in polygons),
                "most": max(polygon.num_points() for polygon in polygons),
                "holes": sum(polygon.holes() for polygon in polygons),
                "twiceArea": sum(polygon.area2() for polygon in polygons),
                "box": [box.left, box.bottom, box.right, box.top],
            }
    return {
        "dbu": layout.dbu,
        "tops": sorted(cell.name for cell in layout.top_cells()),
        "cells": cells,
    }


def region(layout, layer):
    index = layout.find_layer(layer.layer, layer.datatype)
    return pya.Region(layout.top_cell().begin_shapes_rec(index))


layouts = []
for name in files.split("|"):
    layout = pya.Layout()
    layout.read(name)
    layouts.append(layout)
result = {"files": [facts(layout) for layout in layouts]}
for layout, found in zip(layouts, result["files"]):
    written = layout.get_info(layout.find_layer(1, 0))
    found["overlapping"] = region(layout, written).merged(False, 2).area()
first, second = layouts[:2]
result["xor"] = sum(
    (region(first, first.get_info(index)) ^ region(second, first.get_info(index))).count()
    for index in first.layer_indexes()
)
with open(out, "w") as file:
    json.dump(result, file)
