# Debian packages: `cmake --build --preset release --target package` after a build. Needs dpkg-dev for what the program
# depends on, and gzip.
find_program(MENDWORTH_GZIP gzip)
if(NOT MENDWORTH_GZIP)
  return()
endif()
# Compressed in the build, without names or times, so that two builds give the same bytes.
set(doc ${CMAKE_CURRENT_BINARY_DIR}/debian)
add_custom_command(
  OUTPUT ${doc}/changelog.gz
  COMMAND ${CMAKE_COMMAND} -E make_directory ${doc}
  COMMAND sh -c "gzip -9nc '${CMAKE_CURRENT_SOURCE_DIR}/cmake/debian/changelog' >'${doc}/changelog.gz'"
  DEPENDS cmake/debian/changelog
  VERBATIM)
add_custom_target(mendworth_changelog ALL DEPENDS ${doc}/changelog.gz)
file(READ ${PROJECT_SOURCE_DIR}/LICENSE licence)
string(REGEX REPLACE "\n\n" "\n.\n" licence "${licence}")
string(STRIP "${licence}" licence)
string(REGEX REPLACE "\n" "\n " licence "${licence}")
file(CONFIGURE OUTPUT ${doc}/copyright CONTENT "Format: https://www.debian.org/doc/packaging-manuals/copyright-format/1.0/
Upstream-Name: mendworth

Files: *
Copyright: 2026 mendworth contributors
License: MIT
 @licence@
" @ONLY)

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_VENDOR mendworth)
set(CPACK_PACKAGE_CONTACT "mendworth contributors <contributors@mendworth.invalid>")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_COMPONENTS_ALL program library)
set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_CONTROL_STRICT_PERMISSION ON)
set(CPACK_DEBIAN_COMPRESSION_TYPE xz)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_NAME mendworth)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_SECTION utils)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PROGRAM_DESCRIPTION "Weighs the repair of a device against its replacement: prices at quantity
breaks, shipping, labour, the expected failures of the remaining parts and
the value of leftover spares, with what would turn the answer. Writes a quote
for a customer, and works out bulk purchases.")
set(CPACK_DEBIAN_LIBRARY_PACKAGE_NAME libmendworth-dev)
set(CPACK_DEBIAN_LIBRARY_PACKAGE_SECTION libdevel)
set(CPACK_DEBIAN_LIBRARY_PACKAGE_DEPENDS
  "libfmt-dev, libtomlplusplus-dev, libcsv-dev, libutf8proc-dev")
set(CPACK_DEBIAN_LIBRARY_DESCRIPTION "Static library, headers, CMake package and pkg-config file to weigh repair
against replacement in a program of one's own.")
foreach(part IN ITEMS "program;mendworth" "library;libmendworth-dev")
  list(GET part 0 component)
  list(GET part 1 package)
  install(FILES ${doc}/changelog.gz ${doc}/copyright DESTINATION ${CMAKE_INSTALL_DATADIR}/doc/${package}
    COMPONENT ${component} OPTIONAL)
endforeach()
# Manual pages of a package are compressed.
set(CPACK_PRE_BUILD_SCRIPTS ${CMAKE_CURRENT_SOURCE_DIR}/cmake/compress_pages.cmake)
include(CPack)
