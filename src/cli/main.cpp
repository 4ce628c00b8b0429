#include <cxxabi.h>
#include <unistd.h>

#include <cstddef>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <exception>
#include <iostream>
#include <new>
#include <ostream>
#include <typeinfo>

#include "cli/cli.hpp"
#include "cli/exit_code.hpp"
#include "cli/standard_output.hpp"

namespace {

/// Memory may be too little for what is made before `main`, or run out where nothing may be thrown, or even for throwing:
/// then there is nothing thrown, and not a page to be had.
[[noreturn]] void end_at_once() {
  constexpr std::size_t page = 4096;
  const std::type_info* thrown = abi::__cxa_current_exception_type();
  const bool no_memory = thrown != nullptr ? *thrown == typeid(std::bad_alloc) : std::malloc(page) == nullptr;
  std::fputs(no_memory ? "mendworth: out of memory\n" : "mendworth: internal error\n", stderr);
  std::_Exit(no_memory ? mendworth::cli::out_of_resources : mendworth::cli::internal_error);
}

// The first of all that is done before `main`.
[[gnu::constructor(101)]] void set_up_end() { std::set_terminate(end_at_once); }

}  // namespace

int main(int argc, char** argv) {
  using namespace mendworth::cli;
  try {
    std::ios::sync_with_stdio(false);
    DescriptorBuffer buffer(STDOUT_FILENO);
    std::ostream out(&buffer);
    int code = run_command_line(argc, argv, {out, std::cerr}, process_surroundings());
    out.flush();
    // A full disk shows only here; half an answer must not look like a whole one.
    if (!out) {
      std::fprintf(stderr, "mendworth: standard output cannot be written: %s\n",
                   std::strerror(buffer.error()));
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
