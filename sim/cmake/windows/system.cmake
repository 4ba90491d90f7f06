# The outside libraries under Windows, in place of externals.cmake: those that stand in headers
# alone, taken from the Debian packages of the machine that builds. What has no header-only form
# (Zstandard, the serial port library, the windowing library) is not there; see
# docs/decisions/0007-what-the-windows-program-leaves-out.md.

# /usr/include itself must not be searched: it holds the C library of the machine that builds. So
# the headers are reached by symlinks in a folder of their own.
set(understudy_headers ${CMAKE_BINARY_DIR}/include/of_others)
file(MAKE_DIRECTORY ${understudy_headers})
foreach(name IN ITEMS fmt asio asio.hpp toml++ nlohmann CLI)
  if(NOT EXISTS /usr/include/${name})
    message(FATAL_ERROR "/usr/include/${name} is not there; sim/cmake/packages.txt has its package")
  endif()
  file(CREATE_LINK /usr/include/${name} ${understudy_headers}/${name} SYMBOLIC)
endforeach()

# A library of headers NAME::NAME, with the definitions it is used with.
function(understudy_headers_of target)
  add_library(understudy_of_others_${target} INTERFACE)
  target_include_directories(understudy_of_others_${target} SYSTEM INTERFACE ${understudy_headers})
  target_compile_definitions(understudy_of_others_${target} INTERFACE ${ARGN})
  add_library(${target}::${target} ALIAS understudy_of_others_${target})
endfunction()
understudy_headers_of(fmt FMT_HEADER_ONLY)
understudy_headers_of(tomlplusplus TOML_HEADER_ONLY=1)
understudy_headers_of(nlohmann_json)
understudy_headers_of(CLI11)
understudy_headers_of(asio ASIO_STANDALONE)
target_link_libraries(understudy_of_others_asio INTERFACE Threads::Threads ws2_32 mswsock)

# Windows 10 is the oldest that counts. Its headers otherwise bring in most of the system, macros
# called min and max, and calls that take text in the code page of the day.
add_compile_definitions(_WIN32_WINNT=0x0A00 WIN32_LEAN_AND_MEAN NOMINMAX UNICODE _UNICODE)
# One file that runs by itself, the same for the same sources.
add_link_options(-static -Wl,--no-insert-timestamp)
