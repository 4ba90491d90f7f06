# Read by find_package(understudy): gives the target understudy::protocol, the line protocol for
# programs in C++20 and, through protocol/understudy_protocol.h, in C.
include(${CMAKE_CURRENT_LIST_DIR}/understudy-targets.cmake)
