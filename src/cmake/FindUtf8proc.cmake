# Used by the build and by whoever links the library.
include(${CMAKE_CURRENT_LIST_DIR}/PlainLibrary.cmake)
plain_library(Utf8proc utf8proc utf8proc.h)
