# Used by the build and by whoever links the library.
include(${CMAKE_CURRENT_LIST_DIR}/PlainLibrary.cmake)
plain_library(Csv csv csv.h)
