#!/usr/bin/python3
# tools/example/read_results.py — slip curve of a results folder: python3 read_results.py DIR/result.h5
# SPDX-License-Identifier: GPL-3.0-or-later
import sys

import h5py

with h5py.File(sys.argv[1]) as f:
    angle = f["slip_curve/load_angle"][:]   # electrical rad
    torque = f["slip_curve/torque"][:]      # N·m on sun, modulator, ring
    for row in zip(angle, *torque.T):
        print("%8.4f  %10.4f %10.4f %10.4f" % row)
