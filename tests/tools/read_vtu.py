#!/usr/bin/python3
# tests/tools/read_vtu.py — reads a grid file with meshio and compares B with expected values.
# SPDX-License-Identifier: GPL-3.0-or-later
"""read_vtu.py FILE.vtu EXPECTED.txt [NAME]: exit code 0 if the cells are quadratic triangles and B at
each differs from EXPECTED (one line of x and y a cell) by at most 1e-12 T; with NAME, if the cell data
of that name are those of a third column."""
import sys

import meshio
import numpy

grid = meshio.read(sys.argv[1])
expected = numpy.loadtxt(sys.argv[2])
(cells,) = grid.cells
b = grid.cell_data["B"][0]
worst = numpy.abs(b[:, :2] - expected[:, :2]).max()
areas_positive = True
for corners in grid.points[cells.data[:, :3]]:
    e, f = corners[1] - corners[0], corners[2] - corners[0]
    areas_positive = areas_positive and e[0] * f[1] - e[1] * f[0] > 0
print(cells.type, len(cells.data), "cells, B differs by", worst, "T at most")
if len(sys.argv) > 3:
    more = grid.cell_data[sys.argv[3]][0].ravel()
    print(sys.argv[3], "differs by", numpy.abs(more - expected[:, 2]).max())
    areas_positive = areas_positive and (more == expected[:, 2]).all()
good = cells.type == "triangle6" and len(expected) == len(b) and worst <= 1e-12 and areas_positive
sys.exit(0 if good and len(grid.point_data["A"]) == len(grid.points) else 1)
