# A library that ships no CMake package: plain_library(Name FILE HEADER) gives Name::name.
include(FindPackageHandleStandardArgs)

macro(plain_library package library header)
  string(TOUPPER ${package} _plain_upper)
  string(TOLOWER ${package} _plain_lower)
  find_path(${_plain_upper}_INCLUDE_DIR ${header})
  find_library(${_plain_upper}_LIBRARY ${library})
  mark_as_advanced(${_plain_upper}_INCLUDE_DIR ${_plain_upper}_LIBRARY)
  find_package_handle_standard_args(${package} REQUIRED_VARS ${_plain_upper}_LIBRARY ${_plain_upper}_INCLUDE_DIR)
  if(${package}_FOUND AND NOT TARGET ${package}::${_plain_lower})
    add_library(${package}::${_plain_lower} UNKNOWN IMPORTED)
    set_target_properties(${package}::${_plain_lower} PROPERTIES
      IMPORTED_LOCATION "${${_plain_upper}_LIBRARY}"
      INTERFACE_INCLUDE_DIRECTORIES "${${_plain_upper}_INCLUDE_DIR}")
  endif()
endmacro()
