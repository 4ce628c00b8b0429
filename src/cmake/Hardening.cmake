# What makes a fault in memory end the program instead of serving whoever caused it. For our own targets only; never
# exported. Sanitizers look closer, and fortified functions hide from them, so their build is without.
#   mendworth_hardening: to link to, everywhere; mendworth_fortify: where the code is optimised.
add_library(mendworth_hardening INTERFACE)
add_library(mendworth_fortify INTERFACE)
if(NOT MENDWORTH_HARDENING)
  return()
endif()

include(CheckCXXCompilerFlag)
include(CheckCXXSourceCompiles)
include(CheckPIESupported)
check_pie_supported(LANGUAGES CXX)
set(CMAKE_POSITION_INDEPENDENT_CODE ON)
foreach(flag IN ITEMS -fstack-protector-strong -fstack-clash-protection -fcf-protection=full
                      -mbranch-protection=standard)
  string(MAKE_C_IDENTIFIER "MENDWORTH_HAS${flag}" has)
  check_cxx_compiler_flag("-Werror ${flag}" ${has})
  if(${has})
    target_compile_options(mendworth_hardening INTERFACE ${flag})
  endif()
endforeach()
target_link_options(mendworth_hardening INTERFACE -Wl,-z,relro -Wl,-z,now -Wl,-z,noexecstack)

# The third level measures what it can at run time; a compiler or a C library that lacks it says so.
set(CMAKE_REQUIRED_FLAGS "-O2 -Werror -U_FORTIFY_SOURCE -D_FORTIFY_SOURCE=3")
check_cxx_source_compiles("
  #include <cstdio>
  #if !defined(__USE_FORTIFY_LEVEL) || __USE_FORTIFY_LEVEL < 3
  #error the second level
  #endif
  int main() { return 0; }" MENDWORTH_FORTIFY_3)
unset(CMAKE_REQUIRED_FLAGS)
target_compile_options(mendworth_fortify INTERFACE
  $<$<NOT:$<CONFIG:Debug>>:-U_FORTIFY_SOURCE;-D_FORTIFY_SOURCE=$<IF:$<BOOL:${MENDWORTH_FORTIFY_3}>,3,2>>)
