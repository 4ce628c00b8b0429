#include <cstdio>
#include <exception>
#include <iostream>
#include <new>

#include "cli/cli.hpp"
#include "cli/exit_code.hpp"

int main(int argc, char** argv) {
  using namespace mendworth::cli;
  try {
    std::ios::sync_with_stdio(false);
    int code = run_command_line(argc, argv, {std::cout, std::cerr}, process_surroundings());
    std::cout.flush();
    // A full disk shows only here; half an answer must not look like a whole one.
    if (!std::cout) {
      std::fputs("mendworth: standard output cannot be written\n", stderr);
      if (code == answered) code = file_trouble;
    }
    return code;
  } catch (const std::bad_alloc&) {
    std::fputs("mendworth: out of memory\n", stderr);
    return out_of_resources;
  } catch (const std::exception& error) {
    std::fprintf(stderr, "mendworth: internal error: %s\n", error.what());
  } catch (...) {
    std::fputs("mendworth: internal error\n", stderr);
  }
  return internal_error;
}
