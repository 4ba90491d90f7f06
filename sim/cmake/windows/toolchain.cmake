# Builds for 64-bit Windows on Debian, by mingw-w64 with POSIX threads:
#   cmake -S . -B build-windows -G Ninja -DCMAKE_TOOLCHAIN_FILE=sim/cmake/windows/toolchain.cmake
# Which libraries there are then stands in system.cmake beside it.
set(CMAKE_SYSTEM_NAME Windows)
set(CMAKE_SYSTEM_PROCESSOR x86_64)
set(understudy_triplet x86_64-w64-mingw32)
set(CMAKE_C_COMPILER ${understudy_triplet}-gcc-posix)
set(CMAKE_CXX_COMPILER ${understudy_triplet}-g++-posix)
set(CMAKE_RC_COMPILER ${understudy_triplet}-windres)
set(CMAKE_FIND_ROOT_PATH /usr/${understudy_triplet})
set(CMAKE_FIND_ROOT_PATH_MODE_PROGRAM NEVER)
set(CMAKE_FIND_ROOT_PATH_MODE_LIBRARY ONLY)
set(CMAKE_FIND_ROOT_PATH_MODE_INCLUDE ONLY)
set(CMAKE_FIND_ROOT_PATH_MODE_PACKAGE ONLY)
