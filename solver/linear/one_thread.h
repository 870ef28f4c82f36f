// solver/linear/one_thread.h — the numerical libraries beneath held to one thread each.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

namespace lodegear {

/// CHOLMOD and BLAS each keep a thread pool of their own; they fight when positions run in
/// parallel, and the bits of a product depend on how many threads share it. To be called in every
/// thread before its first product: the BLAS setting holds for the process, the OpenMP one for the
/// thread.
void hold_to_one_thread();

}  // namespace lodegear
