# Debian's cpp-httplib is compiled and ships no CMake package. Gives Httplib::httplib.
find_path(HTTPLIB_INCLUDE_DIR httplib.h)
find_library(HTTPLIB_LIBRARY cpp-httplib)
mark_as_advanced(HTTPLIB_INCLUDE_DIR HTTPLIB_LIBRARY)

include(FindPackageHandleStandardArgs)
find_package_handle_standard_args(Httplib REQUIRED_VARS HTTPLIB_LIBRARY HTTPLIB_INCLUDE_DIR)

if(Httplib_FOUND AND NOT TARGET Httplib::httplib)
  add_library(Httplib::httplib UNKNOWN IMPORTED)
  set_target_properties(Httplib::httplib PROPERTIES
    IMPORTED_LOCATION "${HTTPLIB_LIBRARY}"
    INTERFACE_INCLUDE_DIRECTORIES "${HTTPLIB_INCLUDE_DIR}")
endif()
