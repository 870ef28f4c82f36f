// solver/linear/lane_clones.h — inner loops compiled for more than one generation of processors.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

/// A function so marked exists for wide vectors too; the fastest that the processor knows is taken
/// when the program starts. Sanitizers cannot watch that choice being made.
#if defined(__GNUC__) && !defined(__clang__) && defined(__x86_64__) && \
    !defined(__SANITIZE_ADDRESS__)
#define LODEGEAR_LANE_CLONES \
  __attribute__((target_clones("arch=x86-64-v4", "arch=x86-64-v3", "default")))
#else
#define LODEGEAR_LANE_CLONES
#endif
