# Run by ctest: see CMakeLists.txt beside this file.
function(run)
  execute_process(COMMAND ${ARGN} RESULT_VARIABLE status OUTPUT_VARIABLE text ERROR_VARIABLE text)
  set(text "${text}" PARENT_SCOPE)
  if(NOT status EQUAL 0)
    string(JOIN " " command ${ARGN})
    message(FATAL_ERROR "${command}\nfailed (${status}):\n${text}")
  endif()
endfunction()

set(prefix ${WORK}/prefix)
set(outside ${WORK}/outside)
set(source ${CMAKE_CURRENT_LIST_DIR}/../..)
file(REMOVE_RECURSE ${prefix} ${outside} ${WORK}/plan)
set(expected "")
foreach(floor geometry planner io)
  file(GLOB headers RELATIVE ${source}/${floor} ${source}/${floor}/standpoint/*.h)
  list(APPEND expected ${headers})
endforeach()
list(SORT expected)
string(JOIN " " expected ${expected})

run(${CMAKE_COMMAND} --install ${BUILT} --prefix ${prefix})
run(${CMAKE_COMMAND} -S ${CMAKE_CURRENT_LIST_DIR}/outside -B ${outside} -G ${GENERATOR}
    -DCMAKE_PREFIX_PATH=${prefix} -DCMAKE_CXX_COMPILER=${COMPILER}
    -DCMAKE_CXX_COMPILER_LAUNCHER=${LAUNCHER} -DCMAKE_CXX_FLAGS=${FLAGS}
    -DSTANDPOINT_VERSION=${VERSION} "-DEXPECTED_HEADERS=${expected}")
run(${CMAKE_COMMAND} --build ${outside})
run(${outside}/one-sight)
set(scene ${source}/scenes/dowel/scene.json)
run(${outside}/use-standpoint ${scene} ${WORK}/plan)
if(NOT text MATCHES "measured from front" OR NOT text MATCHES "ball-38 cannot take dowel-by-ball-alone")
  message(FATAL_ERROR "use-standpoint says:\n${text}")
endif()

# The library writes what the installed command writes.
file(MAKE_DIRECTORY ${WORK}/plan/by-command)
execute_process(COMMAND ${prefix}/bin/standpoint plan ${scene} -o ${WORK}/plan/by-command --quiet
                RESULT_VARIABLE status)
if(status GREATER 1)
  message(FATAL_ERROR "the installed command ends with ${status}")
endif()
foreach(name plan.json stations.csv touches.csv page.html)
  run(${CMAKE_COMMAND} -E compare_files ${WORK}/plan/${name} ${WORK}/plan/by-command/${name})
endforeach()

foreach(name share/man/man1/standpoint.1 share/bash-completion/completions/standpoint
             share/zsh/vendor-completions/_standpoint share/doc/standpoint/README.md
             share/doc/standpoint/LICENSE share/doc/standpoint/docs/scene.md
             share/doc/standpoint/docs/scene.schema.json)
  if(NOT EXISTS ${prefix}/${name})
    message(FATAL_ERROR "${name} is not installed")
  endif()
  file(SIZE ${prefix}/${name} size)
  if(size EQUAL 0)
    message(FATAL_ERROR "${name} is empty")
  endif()
endforeach()
