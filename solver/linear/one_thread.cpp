// solver/linear/one_thread.cpp — the numerical libraries beneath held to one thread each.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/linear/one_thread.h"

#include <dlfcn.h>
#include <omp.h>

namespace lodegear {

void hold_to_one_thread() {
  omp_set_max_active_levels(0);
  static const bool once = [] {
    if (void* setter = dlsym(RTLD_DEFAULT, "openblas_set_num_threads"))
      reinterpret_cast<void (*)(int)>(setter)(1);
    return true;
  }();
  (void)once;
}

}  // namespace lodegear
