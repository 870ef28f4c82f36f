# tests/discover_tests.cmake — tells CTest the test cases of a program, their labels and what to start first.
# SPDX-License-Identifier: GPL-3.0-or-later
# Run after a program is built:
#   cmake -DPROGRAM=<path> -DPREFIX=<name> -DOUTPUT=<file> -P discover_tests.cmake
# Catch2 brings such a script; this one knows the tags [slow] and [long], and leaves out what is hidden
# by [.]: chores such as writing expected values anew. A test that warns "not run: …" counts as skipped.

# Adds the tests that match the tags `spec`. A high cost is started early, so that no slow
# test is left alone at the end.
function(add_tests spec label cost)
  execute_process(COMMAND ${PROGRAM} ${spec} --list-test-names-only OUTPUT_VARIABLE names
                  RESULT_VARIABLE count ERROR_VARIABLE complaint)
  if(NOT count MATCHES "^[0-9]+$")  # Catch2 returns the number of tests
    message(FATAL_ERROR "${PROGRAM} cannot list its tests: ${count} ${complaint}")
  endif()
  string(REPLACE ";" "\\;" names "${names}")
  string(REPLACE "\n" ";" names "${names}")
  foreach(name IN LISTS names)
    if(name STREQUAL "")
      continue()
    endif()
    string(REGEX REPLACE "([][,\\])" "\\\\\\1" pattern "${name}")  # what Catch2 would take as its own
    file(APPEND ${OUTPUT} "add_test([==[${PREFIX}: ${name}]==] [==[${PROGRAM}]==] [==[${pattern}]==])\n"
         "set_tests_properties([==[${PREFIX}: ${name}]==] PROPERTIES LABELS ${label} COST ${cost}\n"
         "  SKIP_REGULAR_EXPRESSION [==[not run: ]==])\n")
  endforeach()
endfunction()

file(WRITE ${OUTPUT} "")
add_tests("~[.]~[slow]~[long]" fast 1)
add_tests("~[.][slow]~[long]" slow 100)
add_tests("~[.][long]" long 1000)
