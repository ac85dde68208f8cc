# The page's app: npm packages, the engine as WebAssembly, one bundled script. Included by
# io/CMakeLists.txt, whose library holds the script; sets `page_bundle` to its path.
find_program(NPM npm REQUIRED)
find_program(NODE node REQUIRED)

set(page_source ${CMAKE_CURRENT_SOURCE_DIR}/page)
set(page_build ${CMAKE_CURRENT_BINARY_DIR}/page)
file(MAKE_DIRECTORY ${page_build})

# npm works in the build tree, beside links to the sources: the source tree stays as it is.
foreach(name app tests build.mjs tsconfig.json)
  file(CREATE_LINK ${page_source}/${name} ${page_build}/${name} SYMBOLIC)
endforeach()
# A browser's driver, what checks types and layout: only where there are tests or measurements.
set(npm_omit "")
if(NOT STANDPOINT_TESTS AND NOT STANDPOINT_BENCH)
  set(npm_omit --omit=dev)
endif()
add_custom_command(
  OUTPUT ${page_build}/node_modules/.package-lock.json
  COMMAND ${CMAKE_COMMAND} -E copy ${page_source}/package.json ${page_source}/package-lock.json ${page_build}
  # No package needs its install script: esbuild's own checks only what npm has already done.
  COMMAND ${NPM} ci ${npm_omit} --ignore-scripts --no-audit --no-fund --loglevel=error
  COMMAND ${CMAKE_COMMAND} -E touch ${page_build}/node_modules/.package-lock.json
  DEPENDS ${page_source}/package.json ${page_source}/package-lock.json
  WORKING_DIRECTORY ${page_build}
  COMMENT "Fetching the page's npm packages")

# The engine: its face, and of the shared sources what it needs.
include(page/webassembly/webassembly.cmake)
set(engine_archive ${wasm_build}/libengine.a)
set(engine_files ${wasm_engine_sources})
if(STANDPOINT_BY_ROOMS)
  wasm_rooms(engine_files engine ${wasm_engine_sources})
endif()
wasm_archive(${engine_archive} ${engine_files})
wasm_objects(engine_face io/page/engine/engine.cpp)

set(engine_js ${page_build}/engine.js)
add_custom_command(
  OUTPUT ${engine_js}
  COMMAND ${wasm_environment} ${EMCXX} -O3 ${wasm_link_flags} -sEXPORT_NAME=Engine
          -sENVIRONMENT=web,worker,node ${engine_face} ${engine_archive} -o ${engine_js}
  DEPENDS ${engine_face} ${engine_archive}
  COMMENT "Linking the page's engine")

# All the rest of the planner, for whoever links it: tests/page. Nothing in the page needs it yet.
set(planner_archive ${wasm_build}/libplanner.a)
wasm_archive(${planner_archive} ${wasm_planner_sources})
add_custom_target(wasm-planner DEPENDS ${planner_archive} ${engine_archive})

file(GLOB_RECURSE page_scripts CONFIGURE_DEPENDS ${page_source}/app/*.ts ${page_source}/app/*.css)
set(page_bundle ${page_build}/page.js)
add_custom_command(
  OUTPUT ${page_bundle} ${page_bundle}.sha256
  COMMAND ${NODE} --preserve-symlinks --preserve-symlinks-main build.mjs ${engine_js} ${page_bundle}
  DEPENDS ${page_scripts} ${page_source}/build.mjs ${page_source}/tsconfig.json ${engine_js}
          ${page_build}/node_modules/.package-lock.json
  WORKING_DIRECTORY ${page_build}
  COMMENT "Bundling the page's app")
