# Files that programs carry inside, byte for byte.

# understudy_embed(OUT name FILE) writes a source file that holds FILE as the bytes from
# `understudy_NAME` up to `understudy_NAME_end`, and sets OUT to its path.
function(understudy_embed out name file)
  set(source ${CMAKE_CURRENT_BINARY_DIR}/embedded_${name}.c)
  file(CONFIGURE OUTPUT ${source} CONTENT [[
/* Holds a file; written by sim/cmake/embed.cmake. */
__asm__(
    ".section .rodata\n"
    ".balign 16\n"
    ".global understudy_@name@\n"
    "understudy_@name@:\n"
    ".incbin \"@file@\"\n"
    ".global understudy_@name@_end\n"
    "understudy_@name@_end:\n"
    ".byte 0\n"
    ".previous\n");
]] @ONLY)
  set_property(SOURCE ${source} APPEND PROPERTY OBJECT_DEPENDS ${file})
  set(${out} ${source} PARENT_SCOPE)
endfunction()

# Sets OUT to the typeface NAME as Debian's package PACKAGE installs it.
function(understudy_typeface out name package)
  file(GLOB folders /usr/share/fonts/*/* /usr/local/share/fonts/*/*)
  find_file(UNDERSTUDY_FONT_${out} ${name} PATHS ${folders} NO_DEFAULT_PATH)
  mark_as_advanced(UNDERSTUDY_FONT_${out})
  if(NOT UNDERSTUDY_FONT_${out})
    message(FATAL_ERROR "the typeface ${name} was not found: install ${package}")
  endif()
  understudy_embed(source ${out} ${UNDERSTUDY_FONT_${out}})
  set(${out} ${source} PARENT_SCOPE)
endfunction()
