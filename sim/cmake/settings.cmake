# Compiler settings that hold for every target: language level, warnings, exact floating point,
# sanitizers. Nothing here knows a folder.
set(CMAKE_CXX_STANDARD 20)
set(CMAKE_CXX_STANDARD_REQUIRED ON)
set(CMAKE_CXX_EXTENSIONS OFF)
set(CMAKE_C_STANDARD 11)
# What is C here talks to the system, whose headers hide their calls from strict C.
set(CMAKE_C_EXTENSIONS ON)
set(CMAKE_EXPORT_COMPILE_COMMANDS ON)
set(CMAKE_POSITION_INDEPENDENT_CODE ON)
set(UNDERSTUDY_ROOT ${CMAKE_CURRENT_SOURCE_DIR})

if(NOT CMAKE_BUILD_TYPE)
  set(CMAKE_BUILD_TYPE Release CACHE STRING "Debug or Release" FORCE)
endif()
set(CMAKE_CXX_FLAGS_RELEASE "-O3 -DNDEBUG")
set(CMAKE_C_FLAGS_RELEASE "-O2 -DNDEBUG")

# The stages of a device are libraries of their own and call each other in the innermost loop. In a
# release by g++, the program is optimised across them when it is linked; tests, which are many,
# link the same libraries the plain way (fat objects hold both).
set(UNDERSTUDY_JOINED_LIBRARIES base model protocol controls board manners wire device session)
set(UNDERSTUDY_JOINS $<AND:$<CONFIG:Release>,$<COMPILE_LANG_AND_ID:CXX,GNU>>)

# Contracting a*b+c into one rounding would make bytes depend on the compiler and the processor.
# Options structs name the fields they set and leave the rest at their defaults, on purpose.
add_compile_options(-Wall -Wextra -Wno-missing-field-initializers -ffp-contract=off)
# g++ 12 takes the unused alternatives of a moved std::variant for uninitialised reads, and at -O3
# sees strings of half the address space overlap in its own std::string.
add_compile_options($<$<COMPILE_LANG_AND_ID:CXX,GNU>:-Wno-maybe-uninitialized>
                    $<$<COMPILE_LANG_AND_ID:CXX,GNU>:-Wno-restrict>)

set(UNDERSTUDY_SANITIZE "" CACHE STRING "empty, address+undefined or thread")
if(UNDERSTUDY_SANITIZE STREQUAL "address+undefined")
  add_compile_options(-O1 -g1 -fno-omit-frame-pointer -fsanitize=address,undefined
                      -fno-sanitize-recover=all)
  add_link_options(-fsanitize=address,undefined)
elseif(UNDERSTUDY_SANITIZE STREQUAL "thread")
  add_compile_options(-O1 -g1 -fno-omit-frame-pointer -fsanitize=thread)
  add_link_options(-fsanitize=thread)
elseif(NOT UNDERSTUDY_SANITIZE STREQUAL "")
  message(FATAL_ERROR "UNDERSTUDY_SANITIZE is '${UNDERSTUDY_SANITIZE}'; "
                      "it may be empty, address+undefined or thread")
endif()

# Guided fuzzing: every library tells libFuzzer which branches an input took. clang++ only.
option(UNDERSTUDY_LIBFUZZER "drive fuzz targets by libFuzzer" OFF)
if(UNDERSTUDY_LIBFUZZER)
  add_compile_options(-fsanitize=fuzzer-no-link)
endif()

# Messages name files from the root of the sources, not where this machine keeps them.
add_compile_options(-fmacro-prefix-map=${UNDERSTUDY_ROOT}/=
                    -fmacro-prefix-map=${CMAKE_BINARY_DIR}/include/=)

# A second build of the same sources then takes seconds, if ccache is there, also in another folder:
# it looks at paths from the root of the sources on. Debuggers want the folder's own, so Debug does
# not share.
find_program(UNDERSTUDY_CCACHE ccache)
if(UNDERSTUDY_CCACHE AND NOT CMAKE_CXX_COMPILER_LAUNCHER)
  set(launcher ${UNDERSTUDY_CCACHE})
  if(NOT CMAKE_BUILD_TYPE STREQUAL "Debug" AND NOT WIN32)
    set(launcher ${CMAKE_COMMAND} -E env CCACHE_BASEDIR=${UNDERSTUDY_ROOT} CCACHE_NOHASHDIR=1
                 ${UNDERSTUDY_CCACHE})
  endif()
  set(CMAKE_C_COMPILER_LAUNCHER ${launcher})
  set(CMAKE_CXX_COMPILER_LAUNCHER ${launcher})
endif()
