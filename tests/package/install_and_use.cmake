# Run by ctest: see CMakeLists.txt beside this file.
function(run)
  execute_process(COMMAND ${ARGN} RESULT_VARIABLE status OUTPUT_VARIABLE text ERROR_VARIABLE text)
  if(NOT status EQUAL 0)
    string(JOIN " " command ${ARGN})
    message(FATAL_ERROR "${command}\nfailed (${status}):\n${text}")
  endif()
endfunction()

set(prefix ${WORK}/prefix)
set(outside ${WORK}/outside)
file(REMOVE_RECURSE ${prefix} ${outside})
run(${CMAKE_COMMAND} --install ${BUILT} --prefix ${prefix})
run(${CMAKE_COMMAND} -S ${CMAKE_CURRENT_LIST_DIR}/outside -B ${outside} -G ${GENERATOR}
    -DCMAKE_PREFIX_PATH=${prefix} -DCMAKE_CXX_COMPILER=${COMPILER}
    -DCMAKE_CXX_COMPILER_LAUNCHER=${LAUNCHER} -DCMAKE_CXX_FLAGS=${FLAGS})
run(${CMAKE_COMMAND} --build ${outside})
run(${outside}/one-sight)
run(${outside}/one-scene ${CMAKE_CURRENT_LIST_DIR}/../../scenes/dowel/scene.json)
run(${prefix}/bin/standpoint --help)
