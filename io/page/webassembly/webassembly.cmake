# What is compiled to WebAssembly, and how: docs/webassembly.md. Included by io/page/page.cmake, which
# makes the page's engine, and by tests/page, which makes a module of the whole planner.
find_program(EMCXX em++ REQUIRED)
find_program(EMAR emar REQUIRED)
find_path(WASM_EIGEN Eigen/Core PATH_SUFFIXES eigen3 REQUIRED)
find_path(WASM_INCLUDES nlohmann/json.hpp REQUIRED)

set(wasm_source ${PROJECT_SOURCE_DIR}/io/page/webassembly)
set(wasm_build ${PROJECT_BINARY_DIR}/io/page/webassembly)
file(MAKE_DIRECTORY ${wasm_build}/objects)

# The one list: all of geometry/ and planner/, and of io/ what reads and writes JSON, CSV and pages.
# What is left out stands here, with the reason.
set(not_for_wasm
    /cover_program_cbc\\.cpp$       # calls CBC; no_integer_solver.cpp stands for it
    # OpenCASCADE, Assimp, pugixml, files and a process of its own
    ^io/read/cad/ ^io/write/qif/ "/qif_[a-z]+\\.cpp$"
    "/(apart|annotation_pipe|body_check|body_reader|cut_polygon|declared_[a-z]+|file_kind|mesh_reader|part_pipe|part_reader|raw_body_pipe|stated_unit)\\.cpp$"
    ^io/cli/ ^io/read/files/ ^io/write/files/ ^io/standpoint/  # the terminal, files
    # begin with a file
    "^io/use/(ask_why|check_scene|choose_sites|compare_plans|find_features|look|pack_scene|plan_scene|read_cell|rehearse_plan|start_[a-z]+)\\.cpp$"
    ^io/page/engine/engine\\.cpp$   # the engine's own face
    ^io/page/webassembly/           # chosen below
    /page_bundle\\.cpp$             # the app's script, put in by the assembler
    /svg_to_png\\.cpp$)             # librsvg
file(GLOB_RECURSE wasm_sources CONFIGURE_DEPENDS RELATIVE ${PROJECT_SOURCE_DIR}
     ${PROJECT_SOURCE_DIR}/geometry/*.cpp ${PROJECT_SOURCE_DIR}/planner/*.cpp
     ${PROJECT_SOURCE_DIR}/io/*.cpp)
foreach(pattern IN LISTS not_for_wasm)
  list(FILTER wasm_sources EXCLUDE REGEX ${pattern})
endforeach()

# Of them, what the page's engine is made of: all that its linker asks for, and little more, since
# everybody who builds the program waits for it.
set(wasm_engine_sources ${wasm_sources})
list(FILTER wasm_engine_sources INCLUDE REGEX
     "^geometry/|^planner/(model|reach)/|^planner/standpoint/(cell|sight)\\.cpp$|/(tie_rule|some_off_line|sight_json|page_scene|standing_engine|station_ties|json_parts|names|text|words|lengths)\\.cpp$")
set(wasm_planner_sources ${wasm_sources})
list(REMOVE_ITEM wasm_planner_sources ${wasm_engine_sources})
list(APPEND wasm_engine_sources io/page/webassembly/fmt.cpp)
list(APPEND wasm_planner_sources io/page/webassembly/no_integer_solver.cpp)

# The libraries' headers alone, not the rest of the system's: a folder of links. Of mmintrin.h, which
# Emscripten's SSE2 lacks, nothing is used.
set(wasm_headers ${wasm_build}/headers)
file(MAKE_DIRECTORY ${wasm_headers})
file(CREATE_LINK ${WASM_EIGEN}/Eigen ${wasm_headers}/Eigen SYMBOLIC)
foreach(library nlohmann hwy fmt tl CGAL boost meshoptimizer.h zlib.h zconf.h)
  file(CREATE_LINK ${WASM_INCLUDES}/${library} ${wasm_headers}/${library} SYMBOLIC)
endforeach()
file(CONFIGURE OUTPUT ${wasm_headers}/mmintrin.h CONTENT "" @ONLY)  # no new date each time

# -msse2: Eigen's SSE2 code makes its sums come in the same order as in the program.
# -fgnuc-version: Eigen takes a compiler before "6.0" as too old for assembler that only x86 has, and
# one before "63" (major * 10 + minor) as needing other such assembler. 5.13 is neither.
# Registers: Eigen picks its product kernels by their number and takes 8 for any 32-bit processor;
# with the 16 of a 64-bit one it adds in the program's order.
# FMT_STATIC_THOUSANDS_SEPARATOR: without it fmt asks the C++ locale, 170 kB of code; none is ever
# written.
# Headers of our own first: oneTBB as a plain loop, and what CGAL must be told.
set(wasm_flags -std=c++20 -O3 -msimd128 -msse2 -fgnuc-version=5.13 -ffp-contract=off -fwasm-exceptions
    -DNDEBUG -DHWY_COMPILE_ONLY_STATIC -DEIGEN_ARCH_DEFAULT_NUMBER_OF_REGISTERS=16
    -DFMT_STATIC_THOUSANDS_SEPARATOR=44
    -Wall -Wextra -Wshadow -I${PROJECT_SOURCE_DIR} -I${PROJECT_SOURCE_DIR}/geometry
    -I${PROJECT_SOURCE_DIR}/planner -I${PROJECT_SOURCE_DIR}/io
    -isystem ${wasm_source}/headers -isystem ${wasm_headers})
set(wasm_link_flags -msimd128 -fwasm-exceptions -sSINGLE_FILE=1 -sMODULARIZE=1
    -sALLOW_MEMORY_GROWTH=1 -sMAXIMUM_MEMORY=4GB -sFILESYSTEM=0
    -sEXPORTED_FUNCTIONS=_malloc,_free
    -sEXPORTED_RUNTIME_METHODS=UTF8ToString,stringToUTF8,lengthBytesUTF8)
# em++ with another Node than Debian's does not find Debian's packages by itself; ccache serves the
# compiler behind it.
set(wasm_environment ${CMAKE_COMMAND} -E env NODE_PATH=/usr/share/nodejs)
if(CCACHE)
  list(APPEND wasm_environment ${ccache_environment} EM_COMPILER_WRAPPER=${CCACHE})
endif()

# wasm_objects(RESULT SOURCE...): rules that compile sources (paths in the project); sets RESULT to
# the objects.
function(wasm_objects result)
  set(objects "")
  foreach(source IN LISTS ARGN)
    string(REPLACE "/" "-" name ${source})
    set(object ${wasm_build}/objects/${name}.o)
    set(more "")
    if(source MATCHES "/setup_sheet\\.cpp$")
      set(more -DSTANDPOINT_VERSION="${PROJECT_VERSION}")
    endif()
    add_custom_command(
      OUTPUT ${object}
      COMMAND ${wasm_environment} ${EMCXX} ${wasm_flags} ${more} -MD -MF ${object}.d
              -c ${PROJECT_SOURCE_DIR}/${source} -o ${object}
      DEPENDS ${PROJECT_SOURCE_DIR}/${source}
      DEPFILE ${object}.d
      COMMENT "Building ${name}.o for WebAssembly"
      VERBATIM)
    list(APPEND objects ${object})
  endforeach()
  set(${result} ${objects} PARENT_SCOPE)
endfunction()

# wasm_rooms(RESULT NAME SOURCE...): one file for each folder of the sources, which includes them all:
# the headers, most of the work, are read once. Sets RESULT to these files. What the tree's walks
# are compiled from stays alone: Highway's macros are for one file each.
function(wasm_rooms result name)
  set(files "")
  set(rooms "")
  foreach(source IN LISTS ARGN)
    if(source MATCHES "^geometry/tree/(blocked|nearest)\\.cpp$")
      list(APPEND files ${source})
      continue()
    endif()
    cmake_path(GET source PARENT_PATH room)
    string(MAKE_C_IDENTIFIER ${room} room)
    list(APPEND rooms ${room})
    string(APPEND content_${room} "#include \"${source}\"\n")
  endforeach()
  list(REMOVE_DUPLICATES rooms)
  cmake_path(RELATIVE_PATH wasm_build BASE_DIRECTORY ${PROJECT_SOURCE_DIR} OUTPUT_VARIABLE build)
  foreach(room IN LISTS rooms)
    # no new date where nothing changed
    file(CONFIGURE OUTPUT ${wasm_build}/rooms/${name}_${room}.cpp CONTENT "${content_${room}}" @ONLY)
    list(APPEND files ${build}/rooms/${name}_${room}.cpp)
  endforeach()
  set(${result} ${files} PARENT_SCOPE)
endfunction()

# wasm_archive(FILE SOURCE...): a rule that makes a library of them; a link takes what it needs.
function(wasm_archive file)
  wasm_objects(objects ${ARGN})
  add_custom_command(
    OUTPUT ${file}
    COMMAND ${CMAKE_COMMAND} -E rm -f ${file}
    COMMAND ${wasm_environment} ${EMAR} rcs ${file} ${objects}
    DEPENDS ${objects}
    COMMENT "Gathering ${file}"
    VERBATIM)
endfunction()
