"""Fringe edges by contourpy's marching squares of a phase on a grid, for comparison.

argv: file of float64 phase values, rows, columns, file of float64 levels, file for the vertices, repetitions.
Prints one JSON line: edges, vertices, the best seconds of CPU of the repetitions, the most memory resident (MB) till then. The vertices are written as float64 column and
row positions of each edge, edges parted by NaN.
"""

import json
import resource
import sys
import time

import contourpy
import numpy

phase_file, rows, columns, level_file, out_file, repetitions = sys.argv[1:7]
phase = numpy.fromfile(phase_file).reshape(int(rows), int(columns))
levels = numpy.fromfile(level_file)
best = float("inf")
for _ in range(int(repetitions)):
    start = time.process_time()
    generator = contourpy.contour_generator(z=phase, name="serial", line_type="Separate")
    lines = [generator.lines(level) for level in levels]
    best = min(best, time.process_time() - start)
resident = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024 / 1e6
edges = [line for at_level in lines for line in at_level]
with open(out_file, "wb") as out:
    for edge in edges:
        edge.astype(numpy.float64).tofile(out)
        numpy.array([[numpy.nan, numpy.nan]]).tofile(out)
print(
    json.dumps(
        {
            "edges": len(edges),
            "vertices": int(sum(len(e) for e in edges)),
            "seconds": best,
            "resident": resident,
        }
    )
)
