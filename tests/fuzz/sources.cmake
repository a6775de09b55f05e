# SPDX-License-Identifier: MIT
# What the fuzzers and the test that replays their inputs are made of: the targets, and the part of the program that they run, with
# world.cpp in place of program/files.cpp.
set(fuzz_bodies)
foreach(source checks targets small_targets text_targets diary_targets sheet_targets world)
  list(APPEND fuzz_bodies ${PROJECT_SOURCE_DIR}/tests/fuzz/${source}.cpp)
endforeach()
set(fuzz_program)
foreach(source sheet_command answers day_plan diary_file diary_open planning report request)
  list(APPEND fuzz_program ${PROJECT_SOURCE_DIR}/src/program/${source}.cpp)
endforeach()
