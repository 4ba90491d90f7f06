# Makes the presets of presets.json known to `cmake --preset` by a one-line, git-ignored
# CMakeUserPresets.json at the top (docs/decisions/0001). Included by every configure; in a fresh
# copy of the sources also runs alone:  cmake -P sim/cmake/write_presets.cmake
cmake_path(SET understudy_presets NORMALIZE
           ${CMAKE_CURRENT_LIST_DIR}/../../CMakeUserPresets.json)
if(NOT EXISTS ${understudy_presets})
  file(WRITE ${understudy_presets}
       "{ \"version\": 4, \"include\": [\"sim/cmake/presets.json\"] }\n")
endif()
