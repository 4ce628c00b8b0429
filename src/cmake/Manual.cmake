# Manual pages, completions and JSON Schemas, made by a program from the tables of options that --help is made from.
file(GLOB MENDWORTH_MANUAL_SOURCES CONFIGURE_DEPENDS ${CMAKE_CURRENT_SOURCE_DIR}/manual/*.cpp)
mendworth_batches(manual 8 ${MENDWORTH_MANUAL_SOURCES})
add_executable(mendworth_manual ${MENDWORTH_MANUAL_SOURCES})
target_include_directories(mendworth_manual PRIVATE ${CMAKE_CURRENT_SOURCE_DIR})
target_compile_options(mendworth_manual PRIVATE -O0)
set_target_properties(mendworth_manual PROPERTIES CXX_EXTENSIONS OFF UNITY_BUILD_MODE GROUP)
target_link_libraries(mendworth_manual PRIVATE mendworth_cli CLI11::CLI11 fmt::fmt mendworth_warnings)

set(MENDWORTH_MANUAL_DIR ${CMAKE_CURRENT_BINARY_DIR}/manual)
add_custom_command(
  OUTPUT ${MENDWORTH_MANUAL_DIR}/mendworth.1
  COMMAND mendworth_manual ${MENDWORTH_MANUAL_DIR}
  DEPENDS mendworth_manual
  VERBATIM)
add_custom_target(mendworth_pages ALL DEPENDS ${MENDWORTH_MANUAL_DIR}/mendworth.1)
