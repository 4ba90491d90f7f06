# Finds every outside library once and gives each a target, so that a folder names what it uses in
# EXTERNAL. The Debian packages behind them are listed in sim/cmake/packages.txt.
#
#   fmt::fmt  tomlplusplus::tomlplusplus  nlohmann_json::nlohmann_json  simdjson::simdjson
#   CLI11::CLI11  asio::asio  libserialport::libserialport  zstd::zstd  SDL2::SDL2
#   Threads::Threads
#   for tests only: GTest::gtest  GTest::gtest_main  benchmark::benchmark  rapidcheck
find_package(Threads REQUIRED)
find_package(PkgConfig REQUIRED)
find_package(fmt REQUIRED)
find_package(nlohmann_json REQUIRED)
find_package(simdjson REQUIRED)
find_package(CLI11 REQUIRED)
find_package(SDL2 REQUIRED)
find_package(GTest REQUIRED)
find_package(benchmark REQUIRED)
find_package(rapidcheck REQUIRED)

# Gives the pkg-config module MODULE the target NAME::NAME.
function(understudy_external name module)
  pkg_check_modules(${name} REQUIRED IMPORTED_TARGET GLOBAL ${module})
  add_library(${name}::${name} ALIAS PkgConfig::${name})
endfunction()
understudy_external(tomlplusplus tomlplusplus)
understudy_external(libserialport libserialport)
understudy_external(zstd libzstd)

# Asio stands in headers alone and brings no description of itself.
find_path(UNDERSTUDY_ASIO_DIR asio.hpp REQUIRED)
add_library(understudy_asio INTERFACE)
target_include_directories(understudy_asio SYSTEM INTERFACE ${UNDERSTUDY_ASIO_DIR})
target_compile_definitions(understudy_asio INTERFACE ASIO_STANDALONE)
target_link_libraries(understudy_asio INTERFACE Threads::Threads)
add_library(asio::asio ALIAS understudy_asio)
