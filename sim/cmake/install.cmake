# What `cmake --install` puts where, in two components that are both installed unless one is named:
#   program       bin, lib/understudy, the panels and readers in share/understudy, the guides, the
#                 manual page, completion for bash and zsh
#   development   the protocol library, its headers, and what find_package(understudy) reads
# Everything is found relative to the program, so the folder may be moved. How it is packed is the
# work of sim/dist. Nothing is installed from builds under sanitizers or for Windows.
if(NOT TARGET understudy OR NOT TARGET understudy-window OR NOT TARGET understudy-port
   OR NOT TARGET tram-game OR NOT UNDERSTUDY_SANITIZE STREQUAL "")
  return()
endif()
include(GNUInstallDirs)
include(CMakePackageConfigHelpers)

install(TARGETS understudy understudy-window tram-game COMPONENT program)
install(TARGETS understudy-port understudy-names COMPONENT program
        LIBRARY DESTINATION lib/understudy)

# The manual page and the completions are written by the program that they are about.
set(generated ${CMAKE_BINARY_DIR}/generated)
add_custom_command(
  OUTPUT ${generated}/understudy.1 ${generated}/understudy.bash ${generated}/_understudy
  COMMAND ${CMAKE_COMMAND} -E make_directory ${generated}
  COMMAND understudy manual > ${generated}/understudy.1
  COMMAND understudy completion bash > ${generated}/understudy.bash
  COMMAND understudy completion zsh > ${generated}/_understudy
  DEPENDS understudy VERBATIM)
add_custom_target(program_words ALL
                  DEPENDS ${generated}/understudy.1 ${generated}/understudy.bash
                          ${generated}/_understudy)
add_dependencies(programs program_words)
install(FILES ${generated}/understudy.1 DESTINATION ${CMAKE_INSTALL_MANDIR}/man1
        COMPONENT program)
install(FILES ${generated}/understudy.bash RENAME understudy
        DESTINATION share/bash-completion/completions COMPONENT program)
install(FILES ${generated}/_understudy DESTINATION share/zsh/vendor-completions
        COMPONENT program)

install(DIRECTORY ${UNDERSTUDY_ROOT}/scenarios DESTINATION share/understudy COMPONENT program
        FILES_MATCHING PATTERN "*.toml" PATTERN "*.csv" PATTERN "*.md"
        PATTERN "*.lua" PATTERN "*.jsonl.zst" PATTERN game EXCLUDE)
install(DIRECTORY ${UNDERSTUDY_ROOT}/protocol/readers DESTINATION share/understudy
        COMPONENT program PATTERN CMakeLists.txt EXCLUDE PATTERN ".*" EXCLUDE)
install(DIRECTORY ${UNDERSTUDY_ROOT}/docs/ DESTINATION ${CMAKE_INSTALL_DOCDIR}
        COMPONENT program PATTERN decisions EXCLUDE)

# The programs carry these inside; Debian keeps what their makers ask to be told with them.
file(GLOB carried /usr/share/doc/libstdc++-*-dev)
list(TRANSFORM carried REPLACE ".*/" "")
foreach(package IN ITEMS ${carried} fonts-cabin fonts-courier-prime fonts-dejavu-core libasio-dev
                         libcli11-dev libfmt-dev libimgui-dev libserialport-dev libstb-dev
                         libtomlplusplus-dev libzstd-dev nlohmann-json3-dev)
  file(REAL_PATH /usr/share/doc/${package}/copyright copyright)
  if(EXISTS ${copyright})
    install(FILES ${copyright} RENAME ${package} DESTINATION ${CMAKE_INSTALL_DOCDIR}/licences
            COMPONENT program)
  endif()
endforeach()

install(TARGETS understudy_protocol EXPORT understudy-targets COMPONENT development
        ARCHIVE DESTINATION lib)
install(DIRECTORY ${UNDERSTUDY_ROOT}/protocol DESTINATION include/understudy
        COMPONENT development FILES_MATCHING PATTERN "*.h" PATTERN readers EXCLUDE
        PATTERN cases EXCLUDE)
# Objects of a release also hold what the linker optimises from, which only this very compiler can
# read.
install(CODE "set(understudy_strip \"${CMAKE_STRIP}\")" COMPONENT development)
install(CODE [[
  set(archive "$ENV{DESTDIR}${CMAKE_INSTALL_PREFIX}/lib/libunderstudy_protocol.a")
  execute_process(COMMAND ${understudy_strip} --strip-debug -R .gnu.lto_* -R .gnu.debuglto_*
                          ${archive} COMMAND_ERROR_IS_FATAL ANY)
]] COMPONENT development)

set_target_properties(understudy_protocol PROPERTIES EXPORT_NAME protocol)
target_include_directories(understudy_protocol PUBLIC $<INSTALL_INTERFACE:include/understudy>)
target_compile_features(understudy_protocol INTERFACE $<INSTALL_INTERFACE:cxx_std_20>)
set(package lib/cmake/understudy)
install(EXPORT understudy-targets NAMESPACE understudy:: DESTINATION ${package}
        COMPONENT development)
write_basic_package_version_file(${CMAKE_BINARY_DIR}/understudy-config-version.cmake
                                 COMPATIBILITY SameMinorVersion)
install(FILES ${UNDERSTUDY_ROOT}/sim/cmake/understudy-config.cmake
              ${CMAKE_BINARY_DIR}/understudy-config-version.cmake
        DESTINATION ${package} COMPONENT development)
