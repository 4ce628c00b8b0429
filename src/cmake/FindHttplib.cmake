# Debian compiles cpp-httplib; elsewhere it is a header alone.
include(${CMAKE_CURRENT_LIST_DIR}/PlainLibrary.cmake)
plain_library(Httplib cpp-httplib httplib.h)
