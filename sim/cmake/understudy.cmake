# The words with which each folder's CMakeLists.txt says what it holds: understudy_library,
# understudy_program, understudy_test, understudy_script_test, understudy_fuzz, understudy_bench.
# Compiler settings are in settings.cmake, outside libraries in externals.cmake.

add_custom_target(programs)
# What the thread sanitizer's run needs: the tests with the label `link`, no more.
add_custom_target(link_tests)

# Adds FOLDER (from the root of the repository) if it describes itself.
macro(understudy_add_folder folder)
  if(EXISTS ${UNDERSTUDY_ROOT}/${folder}/CMakeLists.txt)
    add_subdirectory(${UNDERSTUDY_ROOT}/${folder} ${CMAKE_BINARY_DIR}/${folder})
  endif()
endmacro()

# Notes files as registered; tests/CMakeLists.txt compares the list with what exists.
function(understudy_register_files)
  foreach(file IN LISTS ARGN)
    cmake_path(ABSOLUTE_PATH file BASE_DIRECTORY ${CMAKE_CURRENT_SOURCE_DIR} NORMALIZE)
    set_property(GLOBAL APPEND PROPERTY UNDERSTUDY_REGISTERED ${file})
  endforeach()
endfunction()

# Sets OUT to the targets of our own libraries NAMES. They need not exist yet: the order of
# add_subdirectory is free, and a library that never comes is an error when generating.
function(understudy_targets_of out)
  set(targets)
  foreach(name IN LISTS ARGN)
    list(APPEND targets understudy::${name})
  endforeach()
  set(${out} ${targets} PARENT_SCOPE)
endfunction()

# understudy_library(wire SOURCES a.cpp b.cpp DEPENDS base model [EXTERNAL fmt::fmt])
#
# Target understudy_wire, alias understudy::wire, from this folder. Without SOURCES it is headers
# alone. Its headers are reached through an include root of its own that shows nothing but this
# folder under its path from the root of the repository:
#     build/include/wire/sim/wire -> sim/wire
# so `#include "sim/wire/receiver.h"` compiles exactly in targets that depend on wire.
#
# A source that ends in _linux or _windows is built for that system alone.
function(understudy_library name)
  cmake_parse_arguments(PARSE_ARGV 1 arg "" "" "SOURCES;DEPENDS;EXTERNAL")
  if(arg_UNPARSED_ARGUMENTS)
    message(FATAL_ERROR "understudy_library(${name}): what is ${arg_UNPARSED_ARGUMENTS}?")
  endif()
  cmake_path(RELATIVE_PATH CMAKE_CURRENT_SOURCE_DIR BASE_DIRECTORY ${UNDERSTUDY_ROOT}
             OUTPUT_VARIABLE folder)
  set(root ${CMAKE_BINARY_DIR}/include/${name})
  cmake_path(GET folder PARENT_PATH parent)
  file(MAKE_DIRECTORY ${root}/${parent})
  file(CREATE_LINK ${CMAKE_CURRENT_SOURCE_DIR} ${root}/${folder} SYMBOLIC)

  if(WIN32)
    list(FILTER arg_SOURCES EXCLUDE REGEX "_linux[.]c(pp)?$")
  else()
    list(FILTER arg_SOURCES EXCLUDE REGEX "_windows[.]c(pp)?$")
  endif()

  set(target understudy_${name})
  set(scope PUBLIC)
  if(arg_SOURCES)
    add_library(${target} STATIC ${arg_SOURCES})
    if(name IN_LIST UNDERSTUDY_JOINED_LIBRARIES)
      target_compile_options(${target} PRIVATE
                             $<${UNDERSTUDY_JOINS}:-flto=auto>
                             $<${UNDERSTUDY_JOINS}:-ffat-lto-objects>)
    endif()
  else()
    add_library(${target} INTERFACE)
    set(scope INTERFACE)
  endif()
  add_library(understudy::${name} ALIAS ${target})
  understudy_targets_of(depends ${arg_DEPENDS})
  target_include_directories(${target} ${scope} $<BUILD_INTERFACE:${root}>)
  target_link_libraries(${target} ${scope} ${depends} ${arg_EXTERNAL})
  set_property(TARGET ${target} PROPERTY UNDERSTUDY_DEPENDS "${arg_DEPENDS}")
endfunction()

# understudy_program(understudy)
#
# What a user runs or loads: it is built into the top of the build tree, and by the target
# `programs`, which sim/start builds. It carries the compiler's own libraries inside, without the
# parts that nothing calls and that would ask for a newer C library, so that it runs where those are
# older (docs/decisions/0008); sanitizers want the shared ones.
function(understudy_program target)
  if(UNDERSTUDY_SANITIZE STREQUAL "")
    target_link_options(${target} PRIVATE -static-libgcc -Wl,--gc-sections
                        $<$<LINK_LANGUAGE:CXX>:-static-libstdc++>)
  endif()
  set_target_properties(${target} PROPERTIES RUNTIME_OUTPUT_DIRECTORY ${CMAKE_BINARY_DIR}
                                             LIBRARY_OUTPUT_DIRECTORY ${CMAKE_BINARY_DIR})
  add_dependencies(programs ${target})
endfunction()

# Where tests find what other tests share: build/include/of_tests/tests -> tests. Libraries never
# see it.
file(MAKE_DIRECTORY ${CMAKE_BINARY_DIR}/include/of_tests)
file(CREATE_LINK ${UNDERSTUDY_ROOT}/tests ${CMAKE_BINARY_DIR}/include/of_tests/tests SYMBOLIC)

# Gives a test, fuzz or bench program what they share. What tests themselves do takes little time,
# and compiling them much of what everything takes, so they are hardly optimised; what they test is.
function(understudy_test_program target)
  cmake_parse_arguments(PARSE_ARGV 1 arg "" "" "SOURCES;DEPENDS;EXTERNAL")
  add_executable(${target} ${arg_SOURCES})
  understudy_targets_of(depends ${arg_DEPENDS})
  target_link_libraries(${target} PRIVATE ${depends} ${arg_EXTERNAL})
  target_include_directories(${target} PRIVATE ${CMAKE_BINARY_DIR}/include/of_tests)
  target_compile_definitions(${target} PRIVATE UNDERSTUDY_SOURCE_ROOT="${UNDERSTUDY_ROOT}"
                                               UNDERSTUDY_BUILD_ROOT="${CMAKE_BINARY_DIR}")
  understudy_register_files(${arg_SOURCES})
  if(NOT target MATCHES "^bench_" AND NOT UNDERSTUDY_SANITIZE STREQUAL "thread")
    target_compile_options(${target} PRIVATE
                           $<IF:$<BOOL:${UNDERSTUDY_SANITIZE}>,-O0,$<$<CONFIG:Release>:-O1>>)
  endif()
endfunction()

# Sets the properties every CTest entry has. Tests with the labels `realtime` and `clients` keep to
# real time, so they run alone.
function(understudy_test_properties name timeout)
  set_tests_properties(${name} PROPERTIES LABELS "${ARGN}" TIMEOUT ${timeout})
  foreach(quiet IN ITEMS realtime clients)
    if(quiet IN_LIST ARGN)
      set_tests_properties(${name} PROPERTIES RUN_SERIAL ON)
    endif()
  endforeach()
endfunction()

# understudy_test(NAME wire_receiver SOURCES receiver_test.cpp DEPENDS wire
#                 [EXTERNAL rapidcheck] [LABELS link] [TIMEOUT 60] [NEEDS understudy ...])
#
# Labels that mean something to tests/run: `link` is run under the thread sanitizer too; `realtime`
# and `plain` are left out under sanitizers (they measure, or would say nothing more); `realtime`
# and `clients` run alone; `golden` is rewritten by the target approve.
#
# One GoogleTest program test_NAME, one CTest entry NAME. It runs in its folder of the build tree,
# where it may write; UNDERSTUDY_SOURCE_ROOT and UNDERSTUDY_BUILD_ROOT are string literals in it.
# NEEDS: targets that must be built before (a program that the test starts).
function(understudy_test)
  cmake_parse_arguments(PARSE_ARGV 0 arg "" "NAME;TIMEOUT" "SOURCES;DEPENDS;EXTERNAL;LABELS;NEEDS")
  if(arg_UNPARSED_ARGUMENTS OR NOT arg_NAME OR NOT arg_SOURCES)
    message(FATAL_ERROR "understudy_test(${arg_NAME}): needs NAME and SOURCES, "
                        "does not know '${arg_UNPARSED_ARGUMENTS}'")
  endif()
  if(NOT arg_TIMEOUT)
    set(arg_TIMEOUT 120)
  endif()
  set(target test_${arg_NAME})
  understudy_test_program(${target} SOURCES ${arg_SOURCES} DEPENDS ${arg_DEPENDS}
                          EXTERNAL ${arg_EXTERNAL} GTest::gtest_main)
  if(arg_NEEDS)
    add_dependencies(${target} ${arg_NEEDS})
  endif()
  if("link" IN_LIST arg_LABELS)
    add_dependencies(link_tests ${target})
  endif()
  add_test(NAME ${arg_NAME} COMMAND ${target})
  understudy_test_properties(${arg_NAME} ${arg_TIMEOUT} ${arg_LABELS})
endfunction()

# understudy_script_test(NAME lint SCRIPT lint_test.py [ARGS ...] [LABELS ...] [TIMEOUT 60])
#
# One CTest entry that runs a .py (python3) or .sh (sh) file of this folder; fails by its status.
# UNDERSTUDY_SOURCE_ROOT and UNDERSTUDY_BUILD_ROOT are in its environment.
function(understudy_script_test)
  cmake_parse_arguments(PARSE_ARGV 0 arg "" "NAME;SCRIPT;TIMEOUT" "ARGS;LABELS")
  if(arg_UNPARSED_ARGUMENTS OR NOT arg_NAME OR NOT arg_SCRIPT)
    message(FATAL_ERROR "understudy_script_test(${arg_NAME}): needs NAME and SCRIPT, "
                        "does not know '${arg_UNPARSED_ARGUMENTS}'")
  endif()
  if(NOT arg_TIMEOUT)
    set(arg_TIMEOUT 120)
  endif()
  set(runner sh)
  if(arg_SCRIPT MATCHES "[.]py$")
    set(runner python3 -B)
  endif()
  add_test(NAME ${arg_NAME}
           COMMAND ${runner} ${CMAKE_CURRENT_SOURCE_DIR}/${arg_SCRIPT} ${arg_ARGS})
  understudy_test_properties(${arg_NAME} ${arg_TIMEOUT} ${arg_LABELS})
  set_tests_properties(${arg_NAME} PROPERTIES ENVIRONMENT
    "UNDERSTUDY_SOURCE_ROOT=${UNDERSTUDY_ROOT};UNDERSTUDY_BUILD_ROOT=${CMAKE_BINARY_DIR}")
  understudy_register_files(${arg_SCRIPT})
endfunction()

# understudy_fuzz(NAME codec SOURCES codec_fuzz.cpp DEPENDS protocol)   in tests/fuzz
#
# One program fuzz_NAME around a function fuzz_one (tests/fuzz/fuzz_one.h). Under clang++ it is
# driven by libFuzzer with -DUNDERSTUDY_LIBFUZZER=ON, else by our seeded driver. The CTest entry
# fuzz_smoke_NAME runs the driver over corpus/NAME.
function(understudy_fuzz)
  cmake_parse_arguments(PARSE_ARGV 0 arg "" "NAME" "SOURCES;DEPENDS;EXTERNAL")
  if(arg_UNPARSED_ARGUMENTS OR NOT arg_NAME OR NOT arg_SOURCES)
    message(FATAL_ERROR "understudy_fuzz(${arg_NAME}): needs NAME and SOURCES, "
                        "does not know '${arg_UNPARSED_ARGUMENTS}'")
  endif()
  set(target fuzz_${arg_NAME})
  understudy_test_program(${target} SOURCES ${arg_SOURCES} DEPENDS fuzz_driver ${arg_DEPENDS}
                          EXTERNAL ${arg_EXTERNAL})
  if(UNDERSTUDY_LIBFUZZER)
    return()
  endif()
  add_test(NAME fuzz_smoke_${arg_NAME} COMMAND ${target} --name ${arg_NAME}
           --corpus ${UNDERSTUDY_ROOT}/tests/fuzz/corpus/${arg_NAME})
  understudy_test_properties(fuzz_smoke_${arg_NAME} 120 fuzz)
endfunction()

# understudy_bench(NAME codec SOURCES codec_bench.cpp DEPENDS protocol)   in tests/bench
#
# One Google Benchmark program bench_NAME. Numbers are taken by hand in a Release build; the CTest
# entry bench_smoke_NAME only shows that each case still runs.
function(understudy_bench)
  cmake_parse_arguments(PARSE_ARGV 0 arg "" "NAME" "SOURCES;DEPENDS;EXTERNAL")
  if(arg_UNPARSED_ARGUMENTS OR NOT arg_NAME OR NOT arg_SOURCES)
    message(FATAL_ERROR "understudy_bench(${arg_NAME}): needs NAME and SOURCES, "
                        "does not know '${arg_UNPARSED_ARGUMENTS}'")
  endif()
  set(target bench_${arg_NAME})
  understudy_test_program(${target} SOURCES ${arg_SOURCES} DEPENDS ${arg_DEPENDS}
                          EXTERNAL ${arg_EXTERNAL} benchmark::benchmark_main)
  add_test(NAME bench_smoke_${arg_NAME} COMMAND ${target} --benchmark_min_time=0.001)
  understudy_test_properties(bench_smoke_${arg_NAME} 300 bench)
endfunction()
