# Stops the configure step when a test, fuzzer, bench or scenario file exists that no CMakeLists.txt
# registers: it would look like a check and never run.
set(UNDERSTUDY_UNREGISTERED error CACHE STRING
    "what an unregistered test file is: error, or warning while you are still writing it")
file(GLOB_RECURSE understudy_existing
     ${UNDERSTUDY_ROOT}/tests/*_test.cpp ${UNDERSTUDY_ROOT}/tests/*_test.py
     ${UNDERSTUDY_ROOT}/tests/*_test.sh ${UNDERSTUDY_ROOT}/tests/*_fuzz.cpp
     ${UNDERSTUDY_ROOT}/tests/*_bench.cpp ${UNDERSTUDY_ROOT}/scenarios/*.lua)
get_property(understudy_registered GLOBAL PROPERTY UNDERSTUDY_REGISTERED)
list(REMOVE_ITEM understudy_existing ${understudy_registered} "")
foreach(file IN LISTS understudy_existing)
  cmake_path(RELATIVE_PATH file BASE_DIRECTORY ${UNDERSTUDY_ROOT})
  set(message "${file} exists but no understudy_test, understudy_script_test, understudy_fuzz, \
understudy_bench or understudy_register_files names it: add it to its folder's CMakeLists.txt, and \
the folder to tests/CMakeLists.txt")
  if(UNDERSTUDY_UNREGISTERED STREQUAL "warning")
    message(WARNING "${message}")
  else()
    message(SEND_ERROR "${message}")
  endif()
endforeach()
