// tests/support/catch_main.cpp — the one object that holds Catch2's main.
// SPDX-License-Identifier: GPL-3.0-or-later
#define CATCH_CONFIG_MAIN
#include <catch2/catch.hpp>
