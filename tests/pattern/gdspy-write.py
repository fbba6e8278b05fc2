"""A GDSII file of polygons that are at hand, by gdspy, for comparison.

argv: file of float64 vertices x, y in micrometres, file of uint32 counts of the polygons, file to write.
Prints one JSON line: polygons, vertices, seconds of CPU for building the cell and writing it, bytes, the most memory resident (MB).
"""

import json
import os
import resource
import sys
import time

import gdspy
import numpy

vertex_file, count_file, out_file = sys.argv[1:4]
vertices = numpy.fromfile(vertex_file).reshape(-1, 2)
counts = numpy.fromfile(count_file, dtype=numpy.uint32)
polygons = numpy.split(vertices, numpy.cumsum(counts)[:-1])
start = time.process_time()
library = gdspy.GdsLibrary(unit=1e-6, precision=1e-9)
cell = gdspy.Cell("PATCH", exclude_from_current=True)
cell.add(gdspy.PolygonSet(polygons, layer=1))
library.add(cell)
library.write_gds(out_file)
seconds = time.process_time() - start
resident = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024 / 1e6
print(
    json.dumps(
        {
            "polygons": len(polygons),
            "vertices": len(vertices),
            "seconds": seconds,
            "bytes": os.path.getsize(out_file),
            "resident": resident,
        }
    )
)
