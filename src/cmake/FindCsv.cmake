# libcsv ships no CMake package. Gives Csv::csv; used by the build and by whoever links the library.
find_path(CSV_INCLUDE_DIR csv.h)
find_library(CSV_LIBRARY csv)
mark_as_advanced(CSV_INCLUDE_DIR CSV_LIBRARY)

include(FindPackageHandleStandardArgs)
find_package_handle_standard_args(Csv REQUIRED_VARS CSV_LIBRARY CSV_INCLUDE_DIR)

if(Csv_FOUND AND NOT TARGET Csv::csv)
  add_library(Csv::csv UNKNOWN IMPORTED)
  set_target_properties(Csv::csv PROPERTIES
    IMPORTED_LOCATION "${CSV_LIBRARY}"
    INTERFACE_INCLUDE_DIRECTORIES "${CSV_INCLUDE_DIR}")
endif()
