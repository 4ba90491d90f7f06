# Finds every outside library once and gives each a target, so that a folder names what it uses in
# EXTERNAL. The Debian packages behind them are listed in sim/cmake/packages.txt.
#
#   fmt::fmt  tomlplusplus::tomlplusplus  nlohmann_json::nlohmann_json  simdjson::simdjson
#   CLI11::CLI11  asio::asio  libserialport::libserialport  zstd::zstd  SDL2::SDL2
#   imgui::imgui  Threads::Threads
#   for tests only: GTest::gtest  GTest::gtest_main  benchmark::benchmark  rapidcheck
find_package(Threads REQUIRED)
if(WIN32)
  include(windows/system)
  return()
endif()
find_package(PkgConfig REQUIRED)
find_package(nlohmann_json REQUIRED)
find_package(simdjson REQUIRED)
find_package(CLI11 REQUIRED)
find_package(SDL2 REQUIRED)
find_package(GTest REQUIRED)
find_package(benchmark REQUIRED)
find_package(rapidcheck REQUIRED)

# Gives the pkg-config module MODULE the target NAME::NAME. It is the archive where there is one, as
# what users run carries its libraries inside (docs/decisions/0008); PkgConfig::NAME is shared.
function(understudy_external name module)
  pkg_check_modules(${name} REQUIRED IMPORTED_TARGET GLOBAL ${module})
  find_library(UNDERSTUDY_${name}_ARCHIVE lib${${name}_LIBRARIES}.a HINTS ${${name}_LIBRARY_DIRS})
  mark_as_advanced(UNDERSTUDY_${name}_ARCHIVE)
  if(NOT UNDERSTUDY_${name}_ARCHIVE)
    add_library(${name}::${name} ALIAS PkgConfig::${name})
    return()
  endif()
  add_library(understudy_${name} INTERFACE)
  target_include_directories(understudy_${name} SYSTEM INTERFACE ${${name}_INCLUDE_DIRS})
  target_link_libraries(understudy_${name} INTERFACE ${UNDERSTUDY_${name}_ARCHIVE})
  add_library(${name}::${name} ALIAS understudy_${name})
endfunction()
understudy_external(libserialport libserialport)
understudy_external(zstd libzstd)
understudy_add_folder(sim/cmake/carried)

# Asio stands in headers alone and brings no description of itself.
find_path(UNDERSTUDY_ASIO_DIR asio.hpp REQUIRED)
add_library(understudy_asio INTERFACE)
target_include_directories(understudy_asio SYSTEM INTERFACE ${UNDERSTUDY_ASIO_DIR})
# Whether it takes memory by aligned_alloc depends on what was included before it, so two files
# could disagree, one freeing what the other took by new. Without, all take it by new.
target_compile_definitions(understudy_asio INTERFACE ASIO_STANDALONE ASIO_DISABLE_STD_ALIGNED_ALLOC)
target_link_libraries(understudy_asio INTERFACE Threads::Threads)
add_library(asio::asio ALIAS understudy_asio)

# Dear ImGui brings no description of itself either; the archive holds its SDL2 part too.
find_path(UNDERSTUDY_IMGUI_DIR imgui.h PATH_SUFFIXES imgui REQUIRED)
find_library(UNDERSTUDY_IMGUI_ARCHIVE libimgui.a REQUIRED)
find_library(UNDERSTUDY_STB_LIBRARY NAMES libstb.a stb REQUIRED)
add_library(understudy_imgui INTERFACE)
target_include_directories(understudy_imgui SYSTEM INTERFACE ${UNDERSTUDY_IMGUI_DIR})
target_link_libraries(understudy_imgui INTERFACE ${UNDERSTUDY_IMGUI_ARCHIVE}
                                                 ${UNDERSTUDY_STB_LIBRARY} SDL2::SDL2)
add_library(imgui::imgui ALIAS understudy_imgui)
