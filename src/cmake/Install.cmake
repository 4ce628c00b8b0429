# What is installed: the program with its manual and completions, and for those who build on it the library, its headers,
# its CMake package and pkg-config's description. Two parts, which are two Debian packages.
include(CMakePackageConfigHelpers)
set(MENDWORTH_PACKAGE_DIR ${CMAKE_INSTALL_LIBDIR}/cmake/mendworth)
configure_package_config_file(cmake/mendworthConfig.cmake.in mendworthConfig.cmake
  INSTALL_DESTINATION ${MENDWORTH_PACKAGE_DIR})
write_basic_package_version_file(mendworthConfigVersion.cmake COMPATIBILITY SameMinorVersion)
string(REGEX REPLACE "[^/]+" ".." MENDWORTH_PC_UP "${CMAKE_INSTALL_LIBDIR}")  # from lib/pkgconfig up to the prefix
configure_file(cmake/mendworth.pc.in mendworth.pc @ONLY)

install(TARGETS mendworth COMPONENT program)
# Pages that have not been built are left out: the program alone can be built and installed.
foreach(chapter IN ITEMS 1 5)
  install(DIRECTORY ${MENDWORTH_MANUAL_DIR}/ DESTINATION ${CMAKE_INSTALL_MANDIR}/man${chapter} COMPONENT program OPTIONAL
    FILES_MATCHING PATTERN "*.${chapter}")
endforeach()
foreach(completion IN ITEMS
    "mendworth.bash|bash-completion/completions|mendworth" "_mendworth|zsh/vendor-completions|_mendworth"
    "mendworth.fish|fish/vendor_completions.d|mendworth.fish")
  string(REPLACE "|" ";" completion "${completion}")
  list(GET completion 0 file)
  list(GET completion 1 folder)
  list(GET completion 2 name)
  install(FILES ${MENDWORTH_MANUAL_DIR}/${file} DESTINATION ${CMAKE_INSTALL_DATADIR}/${folder} RENAME ${name}
    COMPONENT program OPTIONAL)
endforeach()
install(DIRECTORY ${MENDWORTH_MANUAL_DIR}/ DESTINATION ${CMAKE_INSTALL_DATADIR}/mendworth COMPONENT program OPTIONAL
  FILES_MATCHING PATTERN "*.schema.json")

install(TARGETS mendworth_core EXPORT mendworthTargets
  ARCHIVE COMPONENT library
  FILE_SET HEADERS COMPONENT library)
install(EXPORT mendworthTargets NAMESPACE mendworth:: DESTINATION ${MENDWORTH_PACKAGE_DIR} COMPONENT library)
install(FILES
  ${CMAKE_CURRENT_BINARY_DIR}/mendworthConfig.cmake
  ${CMAKE_CURRENT_BINARY_DIR}/mendworthConfigVersion.cmake
  cmake/FindCsv.cmake
  cmake/FindUtf8proc.cmake
  cmake/PlainLibrary.cmake
  DESTINATION ${MENDWORTH_PACKAGE_DIR} COMPONENT library)
install(FILES ${CMAKE_CURRENT_BINARY_DIR}/mendworth.pc DESTINATION ${CMAKE_INSTALL_LIBDIR}/pkgconfig COMPONENT library)
