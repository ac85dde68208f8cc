# The page's app: npm packages, the engine as WebAssembly, one bundled script. Included by
# io/CMakeLists.txt, whose library holds the script; sets `page_bundle` to its path.
find_program(NPM npm REQUIRED)
find_program(NODE node REQUIRED)
find_program(EMCXX em++ REQUIRED)

set(page_source ${CMAKE_CURRENT_SOURCE_DIR}/page)
set(page_build ${CMAKE_CURRENT_BINARY_DIR}/page)
file(MAKE_DIRECTORY ${page_build}/objects)

# npm works in the build tree, beside links to the sources: the source tree stays as it is.
foreach(name app tests build.mjs tsconfig.json)
  file(CREATE_LINK ${page_source}/${name} ${page_build}/${name} SYMBOLIC)
endforeach()
add_custom_command(
  OUTPUT ${page_build}/node_modules/.package-lock.json
  COMMAND ${CMAKE_COMMAND} -E copy ${page_source}/package.json ${page_source}/package-lock.json ${page_build}
  # No package needs its install script: esbuild's own checks only what npm has already done.
  COMMAND ${NPM} ci --ignore-scripts --no-audit --no-fund --loglevel=error
  COMMAND ${CMAKE_COMMAND} -E touch ${page_build}/node_modules/.package-lock.json
  DEPENDS ${page_source}/package.json ${page_source}/package-lock.json
  WORKING_DIRECTORY ${page_build}
  COMMENT "Fetching the page's npm packages")

# The libraries' headers alone, not the rest of the system's: a folder of links. Eigen's SSE2 code
# is what makes its sums come in the same order as in the program; Emscripten has the intrinsics, but
# not this one header, of which nothing is used.
set(page_headers ${page_build}/headers)
file(MAKE_DIRECTORY ${page_headers})
find_path(PAGE_EIGEN Eigen/Core PATH_SUFFIXES eigen3 REQUIRED)
find_path(PAGE_JSON nlohmann/json.hpp REQUIRED)
find_path(PAGE_HIGHWAY hwy/highway.h REQUIRED)
find_path(PAGE_FMT fmt/format.h REQUIRED)
file(CREATE_LINK ${PAGE_EIGEN}/Eigen ${page_headers}/Eigen SYMBOLIC)
file(CREATE_LINK ${PAGE_JSON}/nlohmann ${page_headers}/nlohmann SYMBOLIC)
file(CREATE_LINK ${PAGE_HIGHWAY}/hwy ${page_headers}/hwy SYMBOLIC)
file(CREATE_LINK ${PAGE_FMT}/fmt ${page_headers}/fmt SYMBOLIC)
file(WRITE ${page_headers}/mmintrin.h "")

# -fgnuc-version: Eigen takes a compiler before "6.0" as too old for assembler that only x86 has, and
# one before "63" (major * 10 + minor) as needing other such assembler. 5.13 is neither.
# FMT_STATIC_THOUSANDS_SEPARATOR: without it fmt asks the C++ locale, 170 kB of code; none is ever
# written.
set(engine_flags -std=c++20 -O3 -msimd128 -msse2 -fgnuc-version=5.13 -ffp-contract=off -fexceptions
    -DNDEBUG -DHWY_COMPILE_ONLY_STATIC -DFMT_HEADER_ONLY
    -DFMT_STATIC_THOUSANDS_SEPARATOR=44 -Wall -Wextra -Wshadow
    -I${PROJECT_SOURCE_DIR} -I${PROJECT_SOURCE_DIR}/geometry -I${PROJECT_SOURCE_DIR}/planner -isystem ${page_headers})
# em++ with another Node than Debian's does not find Debian's packages by itself; ccache serves the
# compiler behind it.
set(em_environment ${CMAKE_COMMAND} -E env NODE_PATH=/usr/share/nodejs)
if(CCACHE)
  list(APPEND em_environment EM_COMPILER_WRAPPER=${CCACHE})
endif()

file(GLOB engine_sources CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/geometry/*.cpp
     ${PROJECT_SOURCE_DIR}/geometry/tree/*.cpp ${PROJECT_SOURCE_DIR}/planner/standpoint/cell.cpp ${PROJECT_SOURCE_DIR}/planner/standpoint/sight.cpp
     ${PROJECT_SOURCE_DIR}/planner/model/*.cpp ${PROJECT_SOURCE_DIR}/planner/reach/*.cpp
     ${page_source}/engine/*.cpp)
list(APPEND engine_sources ${PROJECT_SOURCE_DIR}/planner/stations/tie_rule.cpp
     ${PROJECT_SOURCE_DIR}/planner/stations/some_off_line.cpp)
foreach(name write/json/sight_json words/json_parts words/lengths write/page/page_scene words/names words/text words/words)
  list(APPEND engine_sources ${CMAKE_CURRENT_SOURCE_DIR}/${name}.cpp)
endforeach()
foreach(source IN LISTS engine_sources)
  file(RELATIVE_PATH name ${PROJECT_SOURCE_DIR} ${source})
  string(REPLACE "/" "-" name ${name})
  set(object ${page_build}/objects/${name}.o)
  add_custom_command(
    OUTPUT ${object}
    COMMAND ${em_environment} ${EMCXX} ${engine_flags} -MD -MF ${object}.d -c ${source} -o ${object}
    DEPENDS ${source}
    DEPFILE ${object}.d
    COMMENT "Building ${name}.o for the page")
  list(APPEND engine_objects ${object})
endforeach()

set(engine_js ${page_build}/engine.js)
add_custom_command(
  OUTPUT ${engine_js}
  COMMAND ${em_environment} ${EMCXX} -O3 -msimd128 -fexceptions -sSINGLE_FILE=1 -sMODULARIZE=1
          -sEXPORT_NAME=Engine -sALLOW_MEMORY_GROWTH=1 -sMAXIMUM_MEMORY=4GB
          -sENVIRONMENT=web,worker,node -sFILESYSTEM=0
          -sEXPORTED_FUNCTIONS=_malloc,_free
          -sEXPORTED_RUNTIME_METHODS=UTF8ToString,stringToUTF8,lengthBytesUTF8
          ${engine_objects} -o ${engine_js}
  DEPENDS ${engine_objects}
  COMMENT "Linking the page's engine")

file(GLOB_RECURSE page_scripts CONFIGURE_DEPENDS ${page_source}/app/*.ts ${page_source}/app/*.css)
set(page_bundle ${page_build}/page.js)
add_custom_command(
  OUTPUT ${page_bundle} ${page_bundle}.sha256
  COMMAND ${NODE} --preserve-symlinks --preserve-symlinks-main build.mjs ${engine_js} ${page_bundle}
  DEPENDS ${page_scripts} ${page_source}/build.mjs ${page_source}/tsconfig.json ${engine_js}
          ${page_build}/node_modules/.package-lock.json
  WORKING_DIRECTORY ${page_build}
  COMMENT "Bundling the page's app")
